"""One scene from its parameters to picture and truth, and series of them."""

import json
import time
from collections.abc import Iterable
from dataclasses import asdict, replace
from math import cos, radians, sin
from pathlib import Path

import numpy as np

from calibration.scenes.body import body_of
from calibration.scenes.camera import NEAREST_MM, frame, window_of
from calibration.scenes.draw import draw_scene
from calibration.scenes.dress import clothes, crotch_drop_mm
from calibration.scenes.film import develop, write_photo
from calibration.scenes.posing import pose_at_wall, stature_mm
from calibration.scenes.references import mount
from calibration.scenes.scene import Scene
from calibration.scenes.skin import bare_parts
from calibration.scenes.truth import landmarks_of, truth_of, write_truth

__all__ = ["render_scene", "render_series", "series"]


def render_scene(scene: Scene, folder: Path, *, samples: int = 8) -> None:
    """Renders a scene into ``NAME.jpg`` and ``NAME.json`` of a folder."""
    from calibration.scenes.blender import render_linear

    drawn = scene
    posed = pose_at_wall(body_of(scene.person), stance=scene.stance, dress=scene.dress)
    garments, covered = clothes(scene, posed)
    pieces = bare_parts(scene, posed, covered=covered) + garments
    child_mm = np.concatenate([piece.points_mm for piece in pieces])
    landmarks = landmarks_of(posed)
    joints_mm = landmarks.leg_joints_mm()
    about_mm = joints_mm.mean(axis=0)
    view, azimuth = scene.view, radians(scene.view.azimuth_deg)
    mounted = mount(
        scene,
        child_mm=child_mm,
        joints_mm=joints_mm,
        stature_mm=stature_mm(posed),
        eye_mm=np.array(
            [
                about_mm[0] + NEAREST_MM * sin(azimuth),
                -view.height_mm,
                about_mm[2] - NEAREST_MM * cos(azimuth),
            ]
        ),
    )
    window = window_of(scene.film, width_px=scene.width_px, height_px=scene.height_px)
    shoulder_y = float(landmarks.points_mm["shoulder_left"][1])
    seen = child_mm if view.whole_body else child_mm[child_mm[:, 1] > shoulder_y]
    must_see_mm = np.concatenate([seen, *mounted.points_mm.values()])
    camera = None
    while camera is None:
        camera = frame(
            view,
            window=window,
            width_px=scene.width_px,
            height_px=scene.height_px,
            about_mm=about_mm,
            must_see_mm=must_see_mm,
        )
        # A lens too long for the room: take the phone's main one, as a person would.
        if camera is None:
            shorter = 26.0 if view.focal_35mm > 30 else 14.0
            view = replace(view, focal_35mm=shorter)
            exif = None if scene.film.exif_focal_35mm is None else round(shorter)
            scene = replace(scene, view=view, film=replace(scene.film, exif_focal_35mm=exif))
    linear = render_linear(scene, pieces=pieces, mounted=mounted, camera=camera, samples=samples)
    picture = develop(
        linear,
        scene.film,
        camera=camera,
        window=window,
        seed=scene.seed * 1_000_000 + scene.index * 100 + scene.photo,
    )
    photo = f"{scene.name}.jpg"
    truth = truth_of(
        scene,
        drawn=drawn,
        photo=photo,
        posed=posed,
        landmarks=landmarks,
        mounted=mounted,
        camera=camera,
        window=window,
        crotch_drop_mm=crotch_drop_mm(garments, posed),
    )
    folder.mkdir(parents=True, exist_ok=True)
    write_photo(picture, scene.film, folder / photo)
    write_truth(truth, folder / f"{scene.name}.json")


def render_series(scenes: Iterable[Scene], folder: Path, *, samples: int = 8) -> int:
    """Renders what is not there yet, telling progress a line a scene; returns how many."""
    todo = [scene for scene in scenes if not _done(scene, folder)]
    began = time.monotonic()
    for count, scene in enumerate(todo, start=1):
        render_scene(scene, folder, samples=samples)
        each_s = (time.monotonic() - began) / count
        left_min = each_s * (len(todo) - count) / 60
        print(
            f"PHOTO {count}/{len(todo)} {scene.name} {each_s:.1f} s each, {left_min:.0f} min left",
            flush=True,
        )
    return len(todo)


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
