"""Pictures of the third trial that cannot be drawn into others: rendered, with the truth kept.

``python -m calibration.doubtful.look_alikes.staged FOLDER`` renders those that are not there yet
and writes what is true of them; it needs Blender and the body model.
"""

import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.postures import POSTURES, Limb, Posture, posture_of
from calibration.scenes.body import body_of
from calibration.scenes.draw import draw_scene
from calibration.scenes.dress import Piece, clothes
from calibration.scenes.posing import Posed
from calibration.scenes.render import Stage, render_stage, stage, truth_of_stage
from calibration.scenes.samples import Sample, sample_scene
from calibration.scenes.scene import Legwear, ReferenceKind, Scene
from calibration.scenes.skin import bare_parts

__all__ = ["STANDS", "Props", "Staged", "another", "dressed", "render_staged", "stage_of"]

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
    props
        What else stands or hangs there.
    worn
        What becomes of the child's own pieces; None: they stay as they are.
    dress
        What the child wears instead.
    lift_mm
        How far above the floor the child is.
    turn_deg
        How far the child is turned.
    """

    name: str
    age_years: float
    legwear: Legwear
    posture: Posture = STANDS
    kind: ReferenceKind = "a4"
    props: Props | None = None
    worn: Callable[[list[Piece]], list[Piece]] | None = None
    dress: Mapping[str, Any] | None = None
    lift_mm: float = 0.0
    turn_deg: float = 0.0


def stage_of(picture: Staged, index: int) -> Stage:
    """The picture's scene with everything in its place."""
    scene = _scene(picture, index)
    posed = posture_of(
        body_of(scene.person), picture.posture, stance=scene.stance, dress=scene.dress
    )
    posed = moved(before_wall(posed), (0.0, -picture.lift_mm, 0.0))
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


def _scene(picture: Staged, index: int) -> Scene:
    scene = _drawn(picture, index)
    width_px, height_px = _SIZE_PX
    stance = replace(scene.stance, turn_deg=scene.stance.turn_deg + picture.turn_deg)
    return replace(
        scene,
        dress=dressed(scene, picture.legwear, picture.dress or {}),
        stance=stance,
        view=replace(scene.view, least_fill=0.6),
        film=replace(scene.film, jpeg_quality=_QUALITY),
        width_px=width_px,
        height_px=height_px,
    )


def _drawn(picture: Staged, index: int) -> Scene:
    """The first scene of the wanted kind; one run of indices may hold none."""
    legwear: Legwear = "regular" if picture.legwear == "hidden" else picture.legwear
    sample = Sample(picture.name, picture.kind, legwear, picture.age_years)
    for run in range(8):
        try:
            return sample_scene(sample, index=_FIRST_INDEX + index + 40 * run)
        except StopIteration:
            continue
    raise RuntimeError(f"{picture.name}: found no {picture.kind} with {legwear} legwear")


def dressed(scene: Scene, legwear: Legwear, changed: Mapping[str, Any]) -> Any:
    """The scene's clothes with some of their cut changed."""
    return replace(scene.dress, legwear=legwear, **changed)


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
    aside_mm: float,
    before_mm: float,
    turn_deg: float = 0.0,
    posture: Posture = STANDS,
) -> list[Piece]:
    """Another person's skin and clothes, drawn from an index of its own."""
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
    garments, covered = clothes(own, before_wall(posed))
    return bare_parts(own, before_wall(posed), covered=covered) + garments


def limb(hip: float = 0.0, knee: float = 0.0, foot: float = 0.0, aside: float = 2.0) -> Limb:
    return Limb(hip, knee, foot, aside)


def render_staged(pictures: tuple[Staged, ...], folder: Path, *, samples: int) -> None:
    """Renders what is not there yet, and keeps what is true of each in ``truth.json``."""
    kept = folder / "truth.json"
    folder.mkdir(parents=True, exist_ok=True)
    true: dict[str, Any] = json.loads(kept.read_text("utf-8")) if kept.exists() else {}
    for index, picture in enumerate(pictures):
        if (folder / f"{picture.name}.jpg").exists():
            continue
        staged = stage_of(picture, index)
        render_stage(_worn(picture, staged), folder, name=picture.name, samples=samples)
        true[picture.name] = _truth(truth_of_stage(staged))
        ordered = dict(sorted(true.items()))
        kept.write_text(json.dumps(ordered, indent=1) + "\n", encoding="utf-8")
        print(f"PICTURE {picture.name}", flush=True)


def _truth(truth: Mapping[str, Any]) -> dict[str, Any]:
    """What is asked of a picture, and its answer."""
    return {
        "inseam_mm": round(truth["inseam_mm"], 1),
        "age_years": truth["age_years"],
        "sex": truth["sex"],
        "soles_mm": truth["soles_mm"],
        "reference": truth["reference"]["kind"],
    }


if __name__ == "__main__":
    from calibration.doubtful.look_alikes.staged_pictures import STAGED

    render_staged(STAGED, Path(sys.argv[1]), samples=5)
