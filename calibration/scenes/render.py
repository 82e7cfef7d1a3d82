"""One scene from its parameters to picture and truth, and series of them."""

import json
import time
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, replace
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.body import body_of
from calibration.scenes.camera import NEAREST_MM, Camera, Window, frame, window_of
from calibration.scenes.draw import draw_scene
from calibration.scenes.dress import Piece, clothes, crotch_drop_mm
from calibration.scenes.film import develop, write_photo
from calibration.scenes.posing import Posed, pose_at_wall, stature_mm
from calibration.scenes.references import Mounted, mount
from calibration.scenes.scene import Scene, View
from calibration.scenes.skin import bare_parts
from calibration.scenes.truth import Landmarks, landmarks_of, truth_of, write_truth

__all__ = [
    "Stage",
    "render_scene",
    "render_series",
    "render_stage",
    "series",
    "stage",
    "truth_of_stage",
]


@dataclass(frozen=True, slots=True)
class Stage:
    """A scene with everything in its place, before any light falls on it.

    ``scene`` is ``drawn`` but for the lens, where the drawn one saw too little.
    """

    drawn: Scene
    scene: Scene
    posed: Posed
    pieces: list[Piece]
    landmarks: Landmarks
    mounted: Mounted
    camera: Camera
    window: Window


def stage(
    drawn: Scene,
    *,
    posed: Posed | None = None,
    worn: tuple[list[Piece], NDArray[np.bool_]] | None = None,
    beside: Sequence[Piece] = (),
) -> Stage:
    """Poses and dresses the child, mounts the reference and aims the camera.

    Parameters
    ----------
    posed
        The child where it does not stand as the scene's stance says.
    worn
        Garments made elsewhere and the body's vertices they cover, (V,).
    beside
        What else has to be in the picture: another person, a chair.
    """
    scene, view = drawn, drawn.view
    posed = posed or pose_at_wall(body_of(scene.person), stance=scene.stance, dress=scene.dress)
    garments, covered = worn or clothes(scene, posed)
    pieces = bare_parts(scene, posed, covered=covered) + garments
    child_mm = np.concatenate([piece.points_mm for piece in pieces])
    landmarks = landmarks_of(posed)
    joints_mm = landmarks.leg_joints_mm()
    about_mm = joints_mm.mean(axis=0)
    azimuth = radians(view.azimuth_deg)
    # Seen from nearest, the child hides most.
    eye_mm = about_mm + NEAREST_MM * np.array([sin(azimuth), 0.0, -cos(azimuth)])
    eye_mm[1] = -view.height_mm
    mounted = mount(
        scene,
        child_mm=child_mm,
        joints_mm=joints_mm,
        stature_mm=stature_mm(posed),
        eye_mm=eye_mm,
    )
    window = window_of(scene.film, width_px=scene.width_px, height_px=scene.height_px)
    shoulder_y = float(landmarks.points_mm["shoulder_left"][1])
    seen = child_mm if view.whole_body else child_mm[child_mm[:, 1] > shoulder_y]
    aside_mm = [piece.points_mm for piece in beside]
    must_see_mm = np.concatenate([seen, *mounted.points_mm.values(), *aside_mm])

    def framed(view: View) -> Camera | None:
        return frame(
            view,
            window=window,
            width_px=scene.width_px,
            height_px=scene.height_px,
            about_mm=about_mm,
            must_see_mm=must_see_mm,
        )

    camera = framed(view)
    for wider_35mm in (26.0, 14.0):
        # A lens too long for the room: take a shorter one, as a person would.
        if camera is None and view.focal_35mm > wider_35mm + 2:
            view = replace(view, focal_35mm=wider_35mm)
            exif = None if scene.film.exif_focal_35mm is None else round(wider_35mm)
            scene = replace(scene, view=view, film=replace(scene.film, exif_focal_35mm=exif))
            camera = framed(view)
    if camera is None:
        raise RuntimeError(f"scene {scene.name} wanted in the frame of a 14 mm lens; does not fit")
    return Stage(
        drawn=drawn,
        scene=scene,
        posed=posed,
        pieces=[*pieces, *beside],
        landmarks=landmarks,
        mounted=mounted,
        camera=camera,
        window=window,
    )


def truth_of_stage(staged: Stage) -> dict[str, Any]:
    """The JSON of a staged scene, which needs no rendering."""
    return truth_of(
        staged.scene,
        drawn=staged.drawn,
        photo=f"{staged.scene.name}.jpg",
        posed=staged.posed,
        landmarks=staged.landmarks,
        mounted=staged.mounted,
        camera=staged.camera,
        window=staged.window,
        crotch_drop_mm=crotch_drop_mm(staged.pieces, staged.posed),
    )


def render_scene(scene: Scene, folder: Path, *, samples: int = 5) -> None:
    """Renders a scene into ``NAME.jpg`` and ``NAME.json`` of a folder."""
    staged = stage(scene)
    render_stage(staged, folder, name=scene.name, samples=samples)
    write_truth(truth_of_stage(staged), folder / f"{scene.name}.json")


def render_stage(staged: Stage, folder: Path, *, name: str, samples: int) -> None:
    """Renders a staged scene into ``NAME.jpg`` of a folder."""
    from calibration.scenes.blender import render_linear

    scene = staged.scene
    linear = render_linear(
        staged.scene,
        pieces=staged.pieces,
        mounted=staged.mounted,
        camera=staged.camera,
        samples=samples,
    )
    picture = develop(
        linear,
        staged.scene.film,
        camera=staged.camera,
        window=staged.window,
        seed=scene.seed * 1_000_000 + scene.index * 100 + scene.photo,
    )
    folder.mkdir(parents=True, exist_ok=True)
    write_photo(picture, staged.scene.film, folder / f"{name}.jpg")


def render_series(scenes: Iterable[Scene], folder: Path, *, samples: int = 5) -> int:
    """Renders what is not there yet, with a line of progress for each scene; returns how many."""
    todo = [scene for scene in scenes if not _done(scene, folder)]
    began, made = time.monotonic(), 0
    for count, scene in enumerate(todo, start=1):
        # Another process may have rendered it meanwhile.
        if _done(scene, folder):
            continue
        render_scene(scene, folder, samples=samples)
        made += 1
        each_s = (time.monotonic() - began) / made
        left_min = each_s * (len(todo) - count) / 60
        print(
            f"PHOTO {count}/{len(todo)} {scene.name} {each_s:.1f} s each, {left_min:.0f} min left",
            flush=True,
        )
    return made


def series(
    *, seed: int, start: int, count: int, photos: int, width_px: int, height_px: int
) -> list[Scene]:
    """Scenes of a run of indices, ``photos`` of each child."""
    return [
        draw_scene(seed=seed, index=index, photo=photo, width_px=width_px, height_px=height_px)
        for index in range(start, start + count)
        for photo in range(photos)
    ]


def _done(scene: Scene, folder: Path) -> bool:
    """Whether picture and truth are there, and of just this scene."""
    truth = folder / f"{scene.name}.json"
    if not (truth.exists() and (folder / f"{scene.name}.jpg").exists()):
        return False
    found = json.loads(truth.read_text(encoding="utf-8")).get("scene")
    return bool(found == json.loads(json.dumps(asdict(scene))))
