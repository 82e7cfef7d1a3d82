"""Pictures of the third trial that cannot be drawn into others: rendered, with the truth kept.

The pictures themselves are in `staged_pictures`.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.pictures import PICTURES, stage_picture
from calibration.doubtful.postures import POSTURES, Posture, posture_of
from calibration.scenes.body import body_of
from calibration.scenes.draw import draw_scene
from calibration.scenes.dress import Piece, clothes
from calibration.scenes.posing import Posed
from calibration.scenes.render import Stage, render_stage, stage, truth_of_stage
from calibration.scenes.samples import Sample, sample_scene
from calibration.scenes.scene import Legwear, ReferenceKind, Scene
from calibration.scenes.skin import bare_parts

__all__ = [
    "STANDS",
    "Props",
    "Staged",
    "another",
    "hips_mm",
    "keep_standing",
    "render_staged",
    "stage_of",
]

_SIZE_PX: Final = (720, 960)
_QUALITY: Final = 70
#: Scenes of these pictures are drawn from indices that no other picture has.
_FIRST_INDEX: Final = 300
STANDS: Final = POSTURES["standing"]
Props = Callable[[Scene, Posed], list[Piece]]


@dataclass(frozen=True, slots=True)
class Staged:
    """One picture: its file name, the child, and how the scene departs from a good one.

    Attributes
    ----------
    index
        What the scene is drawn from; it is never used again.
    props
        What else stands or hangs there.
    worn
        What becomes of the child's own pieces; None: they stay as they are.
    dress
        What the child wears instead.
    lift_mm
        How far above the floor the child is.
    before_mm
        How far before its place at the wall.
    said_age_years
        The age that somebody states where it is not the child's own.
    """

    name: str
    index: int
    age_years: float
    legwear: Legwear
    posture: Posture = STANDS
    kind: ReferenceKind = "a4"
    props: Props | None = None
    worn: Callable[[list[Piece]], list[Piece]] | None = None
    dress: Mapping[str, Any] | None = None
    lift_mm: float = 0.0
    before_mm: float = 0.0
    said_age_years: float | None = None


def stage_of(picture: Staged) -> Stage:
    """The picture's scene with everything in its place."""
    scene = _scene(picture)
    posed = posture_of(
        body_of(scene.person), picture.posture, stance=scene.stance, dress=scene.dress
    )
    posed = moved(before_wall(posed), (0.0, -picture.lift_mm, -picture.before_mm))
    beside = [] if picture.props is None else picture.props(scene, posed)
    return stage(scene, posed=posed, beside=beside)


def _worn(picture: Staged, staged: Stage) -> Stage:
    """The scene with what becomes of the child's own pieces, which come first."""
    if picture.worn is None:
        return staged
    names = ("skin", "eyes", "scalp", "long_hair", "legwear", "top", "cover", "socks", "shoes")
    count = next(
        (at for at, one in enumerate(staged.pieces) if one.name not in names), len(staged.pieces)
    )
    return replace(staged, pieces=[*picture.worn(staged.pieces[:count]), *staged.pieces[count:]])


def _scene(picture: Staged) -> Scene:
    scene = _drawn(picture)
    width_px, height_px = _SIZE_PX
    return replace(
        scene,
        dress=replace(scene.dress, legwear=picture.legwear, **(picture.dress or {})),
        view=replace(scene.view, least_fill=0.6),
        film=replace(scene.film, jpeg_quality=_QUALITY),
        width_px=width_px,
        height_px=height_px,
    )


def _drawn(picture: Staged) -> Scene:
    """The first scene of the wanted kind; one run of indices may hold none."""
    legwear: Legwear = "regular" if picture.legwear == "hidden" else picture.legwear
    sample = Sample(picture.name, picture.kind, legwear, picture.age_years)
    for run in range(8):
        try:
            return sample_scene(sample, index=_FIRST_INDEX + picture.index + 40 * run)
        except StopIteration:
            continue
    raise RuntimeError(f"{picture.name}: found no {picture.kind} with {legwear} legwear")


def before_wall(posed: Posed) -> Posed:
    """Moved forward until nothing of the body is in the wall."""
    through_mm = float(posed.vertices_mm[:, 2].max()) + 5.0
    return posed if through_mm <= 0 else moved(posed, (0.0, 0.0, -through_mm))


def moved(posed: Posed, by_mm: tuple[float, float, float]) -> Posed:
    """The same body elsewhere."""
    by: NDArray[np.float64] = np.array(by_mm)
    return replace(posed, shifts_mm=posed.shifts_mm + by, joints_mm=posed.joints_mm + by)


def another(
    scene: Scene,
    *,
    number: int,
    age_years: float,
    aside_mm: float = 0.0,
    before_mm: float = 0.0,
    turn_deg: float = 0.0,
    posture: Posture = STANDS,
    hips_at_mm: NDArray[np.float64] | None = None,
) -> list[Piece]:
    """Another person's skin and clothes, drawn from an index of its own.

    Where ``hips_at_mm`` is given the hips are there, whatever is said of the feet.
    """
    drawn = draw_scene(seed=scene.seed, index=scene.index + number, width_px=720, height_px=960)
    stance = replace(
        drawn.stance,
        turn_deg=turn_deg,
        heel_gap_mm=before_mm,
        sideways_mm=scene.stance.sideways_mm + aside_mm,
        knee_bend_deg=0,
    )
    own = replace(drawn, person=replace(drawn.person, age_years=age_years), stance=stance)
    posed = posture_of(body_of(own.person), posture, stance=stance, dress=own.dress)
    posed = before_wall(posed)
    if hips_at_mm is not None:
        x_mm, y_mm, z_mm = hips_at_mm - hips_mm(posed)
        posed = moved(posed, (x_mm, y_mm, z_mm))
    garments, covered = clothes(own, posed)
    return bare_parts(own, posed, covered=covered) + garments


def hips_mm(posed: Posed) -> NDArray[np.float64]:
    """(3,) between the hip joints."""
    middle: NDArray[np.float64] = (
        posed.joint_mm("upperleg01.L") + posed.joint_mm("upperleg01.R")
    ) / 2
    return middle


def render_staged(pictures: tuple[Staged, ...], folder: Path, *, samples: int) -> None:
    """Renders what is not there yet, and keeps what is true of each in ``truth.json``."""
    kept = folder / "truth.json"
    folder.mkdir(parents=True, exist_ok=True)
    true: dict[str, Any] = json.loads(kept.read_text("utf-8")) if kept.exists() else {}
    for picture in pictures:
        is_there = (folder / f"{picture.name}.jpg").exists()
        if is_there and picture.name in true:
            continue
        staged = stage_of(picture)
        if not is_there:
            render_stage(_worn(picture, staged), folder, name=picture.name, samples=samples)
        true[picture.name] = _truth(picture, staged)
        _keep(true, kept)
        print(f"PICTURE {picture.name}", flush=True)


def keep_standing(kept: Path) -> None:
    """Keeps what is true of the older rendered pictures whose child stands as it should."""
    standing = [one for one in PICTURES if one.name.startswith("flat_")]
    true = {one.name: truth_of_stage(stage_picture(one)) for one in standing}
    _keep({name: {"inseam_mm": round(one["inseam_mm"], 1)} for name, one in true.items()}, kept)


def _keep(true: Mapping[str, Any], kept: Path) -> None:
    ordered = dict(sorted(true.items()))
    kept.write_text(json.dumps(ordered, indent=1) + "\n", encoding="utf-8")


def _truth(picture: Staged, staged: Stage) -> dict[str, Any]:
    """What is asked of a picture, and its answer."""
    truth = truth_of_stage(staged)
    return {
        "inseam_mm": round(truth["inseam_mm"], 1),
        "age_years": truth["age_years"],
        "said_age_years": picture.said_age_years or truth["age_years"],
        "sex": truth["sex"],
        "soles_mm": truth["soles_mm"],
        "reference": truth["reference"]["kind"],
    }
