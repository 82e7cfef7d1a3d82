"""One photo of a world, from its parameters to picture and truth; and series in processes."""

import json
import time
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.body import SKIN_VERTICES, Body
from calibration.scenes.dress import Piece, clothes, crotch_drop_mm
from calibration.scenes.film import develop, write_photo
from calibration.scenes.posing import SHOE_MM, SOCK_MM, Posed
from calibration.scenes.references import Book
from calibration.scenes.render import Stage, stage
from calibration.scenes.scene import Scene
from calibration.scenes.skin import bare_parts
from calibration.scenes.truth import truth_of, write_truth
from calibration.worlds.bodies import Stock
from calibration.worlds.book import book_between
from calibration.worlds.dressing import Dressed, dressed
from calibration.worlds.hips import with_measured_hips
from calibration.worlds.people import Proportions
from calibration.worlds.rooms import Thing, thing_pieces
from calibration.worlds.stances import stand
from calibration.worlds.world_scene import WorldScene

__all__ = ["WorldStage", "render_world", "stage_world", "truth_of_world"]


@dataclass(frozen=True, slots=True)
class WorldStage:
    """A world's photo with everything in its place."""

    drawn: WorldScene
    staged: Stage
    worn: Dressed
    book: Book | None

    @property
    def name(self) -> str:
        """File name without its ending."""
        return self.drawn.name if self.book is None else f"{self.drawn.name}_book"


def stage_world(
    drawn: WorldScene, *, body: Body, stock: Stock, with_book: bool = False
) -> WorldStage:
    """Stand, dress and surround the child; ``body`` is the child's own.

    Whoever else is in the room has a body of ``stock``. With a book it is between the legs, its end under the printed label.
    """
    scene = drawn.scene
    heel_mm = {"bare": 0.0, "socks": SOCK_MM, "shoes": SHOE_MM}[scene.dress.footwear]
    stance = scene.stance
    if with_book:
        stance = replace(stance, ankle_separation_mm=max(stance.ankle_separation_mm, 120.0))
        scene = replace(scene, stance=stance)
        # A long top is held up, or nobody sees the label.
        shown = replace(drawn.outfit, top_hem_mm=min(drawn.outfit.top_hem_mm, -35.0))
        drawn = replace(drawn, outfit=shown)
    posed = stand(
        body,
        stance=stance,
        soles_mm=scene.dress.soles_mm,
        heel_mm=heel_mm,
        board_mm=scene.place.skirting_depth_mm,
        seat_at_wall=drawn.seat_at_wall,
    )
    worn = _worn(drawn, scene, posed)
    staged = stage(scene, posed=posed, worn=(worn.pieces, worn.covered))
    around: list[Piece] = []
    child_x = [float(v) for v in np.percentile(posed.vertices_mm[:SKIN_VERTICES, 0], [0, 100])]
    points = np.concatenate(list(staged.mounted.points_mm.values()))
    keep_off = (
        min(child_x[0], float(points[:, 0].min())) - 90,
        max(child_x[1], float(points[:, 0].max())) + 90,
    )
    for thing in drawn.clutter:
        if thing.kind == "person":
            around += _person(drawn, thing, stock, keep_off)
        else:
            around += thing_pieces(thing, keep_off_mm=keep_off)
    book = None
    if with_book:
        rng = np.random.default_rng((scene.seed, scene.index, scene.photo, 5))
        book = book_between(posed, rng, turn_deg=stance.turn_deg)
    return WorldStage(
        drawn=drawn,
        staged=replace(staged, pieces=[*staged.pieces, *around]),
        worn=worn,
        book=book,
    )


def _worn(drawn: WorldScene, scene: Scene, posed: Posed) -> Dressed:
    if drawn.outfit.style != "own":
        return dressed(drawn.outfit, scene.dress, posed, turn_deg=scene.stance.turn_deg)
    garments, covered = clothes(scene, posed)
    drop_mm = None if scene.dress.cover == "skirt" else crotch_drop_mm(garments, posed)
    crotch_y_mm = float(posed.vertices_mm[posed.body.crotch_vertex, 1])
    return Dressed(garments, covered, drop_mm, crotch_y_mm + drawn.outfit.top_hem_mm)


def _person(
    drawn: WorldScene, thing: Thing, stock: Stock, keep_off: tuple[float, float]
) -> list[Piece]:
    """Another child or a parent at the edge, dressed in the body's own suit."""
    from calibration.scenes.draw import draw_scene

    scene = drawn.scene
    rng = np.random.default_rng(thing.seed)
    other = draw_scene(seed=scene.seed + 500, index=thing.seed % 10_000, width_px=9, height_px=12)
    grown = float(min(rng.uniform(0.75, 1.35), 1720 / drawn.proportions.stature_mm))
    heights = drawn.proportions
    wanted = Proportions(
        sex=other.person.sex,
        age_years=float(np.clip(heights.age_years * grown, 2.2, 13.9)),
        **{
            name: getattr(heights, name) * grown
            for name in (
                "stature_mm",
                "inseam_mm",
                "hip_mm",
                "knee_mm",
                "ankle_mm",
                "foot_length_mm",
            )
        },
    )
    body = stock.body_like(wanted, pick=int(rng.integers(6)))
    edge = keep_off[1] + 330 if thing.x_mm > 0 else keep_off[0] - 330
    dress = other.dress
    if dress.legwear == "hidden":
        dress = replace(dress, legwear="snug", cover="none", cover_below_crotch_mm=0.0)
    stance = replace(
        other.stance,
        turn_deg=float(rng.uniform(-40, 40)),
        heel_gap_mm=float(rng.uniform(100, 450)),
        sideways_mm=edge,
        knee_bend_deg=0.0,
    )
    posed = stand(
        body,
        stance=stance,
        soles_mm=dress.soles_mm,
        heel_mm=6.0,
        board_mm=20.0,
        seat_at_wall=False,
    )
    whole = replace(other, dress=dress, stance=stance)
    garments, covered = clothes(whole, posed)
    return bare_parts(whole, posed, covered=covered) + garments


def truth_of_world(made: WorldStage) -> dict[str, Any]:
    """The bench's truth of a photo, and what only worlds have."""
    staged, drawn, worn = made.staged, made.drawn, made.worn
    scene, camera, window = staged.scene, staged.camera, staged.window
    hidden = scene.dress.legwear == "hidden"
    posed = staged.posed
    crotch_mm = staged.landmarks.points_mm["crotch"]
    truth = truth_of(
        scene,
        drawn=staged.drawn,
        photo=f"{made.name}.jpg",
        posed=posed,
        landmarks=staged.landmarks,
        mounted=staged.mounted,
        camera=camera,
        window=window,
        crotch_drop_mm=0.0 if worn.drop_mm is None else worn.drop_mm,
    )

    def pixels(points_mm: NDArray[np.float64]) -> list[list[float]]:
        out: list[list[float]] = np.round(
            window.apply(camera.project(np.atleast_2d(points_mm))), 3
        ).tolist()
        return out

    truth = with_measured_hips(truth, camera=camera, window=window)
    feet = [p for p in worn.pieces if p.name in ("shoes", "socks")]
    extra = {f"shod_{end}_{side}": point for end, side, point in _shod_ends(posed, feet)}
    board_mm = scene.place.skirting_depth_mm
    base_mm = np.array([[x, 0.0, -board_mm] for x in np.linspace(-1500, 1500, 7)])
    drop = np.array([0.0, 0.0 if worn.drop_mm is None else worn.drop_mm, 0.0])
    heels = [extra[f"shod_heel_{side}"][2] for side in ("left", "right")]
    truth["heel_gap_mm"] = round(float(-max(heels)), 2)
    truth["landmarks_mm"] |= {name: np.round(p, 2).tolist() for name, p in extra.items()}
    truth["landmarks_px"] |= {name: pixels(p)[0] for name, p in extra.items()}
    truth["cover_below_crotch_mm"] = round(drawn.outfit.top_hem_mm, 1) if hidden else None
    if not drawn.has_reference:
        truth["reference"] = {"kind": "none", "plane": "none"}
    if made.book is not None:
        corners = made.book.label_corners_mm
        truth["book"] = {
            "label_corners_mm": np.round(corners, 2).tolist(),
            "label_corners_px": pixels(corners),
            "top_edge_height_mm": round(-float(corners[:2, 1].mean()), 2),
            "label_size_mm": [made.book.label_width_mm, made.book.label_height_mm],
        }
    return truth | {
        "world": drawn.world,
        "dressed_as": drawn.dressed_as,
        "stance_group": drawn.stance_group,
        "seat_at_wall": drawn.seat_at_wall,
        "legwear_kind": drawn.outfit.wear,
        "dressing": drawn.outfit.style,
        "legwear_group": {"regular": "fitted", "shorts": "fitted"}.get(
            scene.dress.legwear, scene.dress.legwear
        ),
        "crotch_height_mm": round(-float(crotch_mm[1]) - scene.dress.soles_mm, 2),
        "crotch_depth_mm": round(-float(crotch_mm[2]), 2),
        "cloth_crotch_px": None if hidden else pixels(crotch_mm + drop)[0],
        "top_hem_y_mm": round(worn.top_hem_y_mm, 1),
        "wall_base_mm": base_mm.tolist(),
        "wall_base_px": pixels(base_mm),
        "proportions": asdict(drawn.proportions),
        "shoe_length_mm": round(_shoe_length_mm(posed, feet), 1),
        "clutter": [thing.kind for thing in drawn.clutter],
        "outfit": asdict(drawn.outfit),
    }


def _shod_ends(posed: Posed, feet: list[Piece]) -> list[tuple[str, str, NDArray[np.float64]]]:
    """Foremost and rearmost points of each shod or bare foot along the foot, on its height."""
    rest_x = posed.body.vertices_mm[:, 0]
    own = posed.body.parts.bones_weight("foot", "toe")[:SKIN_VERTICES] > 0.5
    skin = posed.vertices_mm[:SKIN_VERTICES]
    ends = []
    for side, mark, sign in (("left", "L", 1.0), ("right", "R", -1.0)):
        points = [skin[own & (sign * rest_x[:SKIN_VERTICES] > 0)]]
        points += [
            p.points_mm[(sign * rest_x[p.vertices] > 0) & (p.points_mm[:, 1] > -0.06 * 1000)]
            for p in feet
        ]
        foot = np.concatenate(points)
        toe, ankle = posed.joint_mm(f"toe3-1.{mark}"), posed.joint_mm(f"foot.{mark}")
        way = np.array([toe[0] - ankle[0], 0.0, toe[2] - ankle[2]])
        along = foot @ (way / np.linalg.norm(way))
        ends.append(("toe", side, foot[int(np.argmax(along))]))
        heel = foot[int(np.argmin(along))]
        ends.append(("heel", side, np.array([heel[0], 0.0, heel[2]])))
    return ends


def _shoe_length_mm(posed: Posed, feet: list[Piece]) -> float:
    ends = {f"{end}_{side}": point for end, side, point in _shod_ends(posed, feet)}
    gap = (ends["toe_left"] - ends["heel_left"])[[0, 2]]
    return float(np.hypot(*gap))


def render_world(
    made: WorldStage, folder: Path, *, samples: int, on_gpu: bool
) -> tuple[float, float]:
    """Renders ``NAME.jpg`` and writes ``NAME.json``; seconds of light and of film."""
    from calibration.scenes.blender import render_linear

    staged = made.staged
    scene = staged.scene
    began = time.monotonic()
    linear = render_linear(
        scene,
        pieces=staged.pieces,
        mounted=staged.mounted,
        camera=staged.camera,
        samples=samples,
        has_reference=made.drawn.has_reference,
        book=made.book,
        on_gpu=on_gpu,
    )
    lit = time.monotonic()
    picture = develop(
        linear,
        scene.film,
        camera=staged.camera,
        window=staged.window,
        seed=scene.seed * 1_000_000 + scene.index * 100 + scene.photo,
    )
    folder.mkdir(parents=True, exist_ok=True)
    write_photo(picture, scene.film, folder / f"{made.name}.jpg")
    write_truth(json.loads(json.dumps(truth_of_world(made))), folder / f"{made.name}.json")
    return lit - began, time.monotonic() - lit
