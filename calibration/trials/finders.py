"""How well the program finds references by itself, on rendered photos whose truth is known.

``python -m calibration.trials.finders FOLDER --part odd`` prints a line for each photo and a
table for each kind:
found, refused, wrongly found (further off than 3 % of the object's size), and how
far the found points lie from the true ones. The finders were improved on scenes of even
number only, so the odd ones are the result.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Annotated, Any, Final

import cv2
import numpy as np
import typer
from numpy.typing import NDArray
from rich.progress import track

from calibration.scenes.truth import read_truths
from pose_fit.body.body import Body
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.reference.find_paper import find_paper_corners
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.find_wheel import find_tyre_points
from pose_fit.reference.printed_sheet import MARKER_IDS, RULER_MM, marker_corners_mm
from pose_fit.reference.reference import PointReference
from pose_fit.refusal import Refusal

__all__ = ["Found", "Part", "look_for_reference"]

#: Further off than this part of the object's size is another object.
_WRONG: Final = 0.03


class Part(Enum):
    """Which scenes: those of even number, of odd number, or all."""

    EVEN = "even"
    ODD = "odd"
    ALL = "all"

    def holds(self, index: int) -> bool:
        """Whether the scene of this number belongs to the part."""
        return self is Part.ALL or (index % 2 == 0) == (self is Part.EVEN)


@dataclass(frozen=True, eq=False, slots=True)
class Found:
    """One photo: the refusal's code, or how far the found points are from the true ones.

    ``off_px`` is (N,) in pixels of the upright picture; ``size_px`` is the object's size.
    """

    photo: str
    kind: str
    size_px: float
    off_px: NDArray[np.float64]
    refusal: str = ""

    @property
    def verdict(self) -> str:
        """``found``, ``wrong``, or the refusal's code."""
        if self.refusal:
            return self.refusal
        return "wrong" if np.abs(self.off_px).max() > _WRONG * self.size_px else "found"


def look_for_reference(photo: Photo, body: Body, truth: Mapping[str, Any]) -> Found | None:
    """What the finder of the photo's kind of reference sees; None for kinds that are clicked."""
    reference = truth["reference"]
    kind, points = reference["kind"], reference["points_px"]
    match kind:
        case "sheet":
            true_px = np.array([points[f"marker_{marker}"] for marker in MARKER_IDS], float)
            sheet = find_sheet(photo, placement="wall", ruler_mm=reference["ruler_mm"])
            if isinstance(sheet, Refusal):
                found: NDArray[np.float64] | Refusal = sheet
            else:
                found = _off_markers(sheet, true_px, reference["ruler_mm"])
        case "letter" | "a4":
            true_px = np.array(points["corners"], float)
            corners_px = find_paper_corners(photo, body, paper=kind)
            if isinstance(corners_px, Refusal):
                found = corners_px
            else:
                found = np.linalg.norm(corners_px - true_px, axis=1)
        case "wheel":
            true_px = _tyre_outline_px(truth)
            tyre_px = find_tyre_points(
                photo,
                body,
                diameter_mm=reference["nominal_diameter_mm"],
                width_mm=truth["scene"]["reference"]["width_mm"],
            )
            found = tyre_px if isinstance(tyre_px, Refusal) else _off_tyre(tyre_px, true_px)
        case _:
            return None
    size_px = float(np.ptp(true_px.reshape(-1, 2), axis=0).max())
    if isinstance(found, Refusal):
        return Found(truth["photo"], kind, size_px, _NOTHING, found.reasons[0].code)
    return Found(truth["photo"], kind, size_px, found)


_NOTHING: Final = np.zeros(0)


def _off_markers(
    seen: PointReference, true_px: NDArray[np.float64], ruler_mm: float | None
) -> NDArray[np.float64]:
    """Distance of each seen corner from where its point of the sheet truly is."""
    known_mm = np.stack([marker_corners_mm()[marker] for marker in MARKER_IDS])
    to_picture, _ = cv2.findHomography(known_mm.reshape(-1, 2), true_px.reshape(-1, 2))
    sheet_mm = seen.object_mm / (1.0 if ruler_mm is None else ruler_mm / RULER_MM)
    expected_px = cv2.perspectiveTransform(sheet_mm[None], to_picture)[0]
    return np.asarray(np.linalg.norm(seen.image_px - expected_px, axis=1))


def _off_tyre(tyre_px: NDArray[np.float64], outline_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far outside the true outline each point of the edge lies."""
    polygon = outline_px.astype(np.float32)
    return np.array([-cv2.pointPolygonTest(polygon, point, True) for point in tyre_px])


def _tyre_outline_px(truth: Mapping[str, Any]) -> NDArray[np.float64]:
    """The hull of the picture of the tyre's surface: what can be seen of its outer edge."""
    edge_mm = np.array(truth["reference"]["points_mm"]["edge"])
    middle_mm = edge_mm.mean(axis=0)
    across, down = np.linalg.svd(edge_mm - middle_mm)[2][:2]
    tube_mm = truth["scene"]["reference"]["width_mm"] / 2
    hoop_mm = np.linalg.norm(edge_mm - middle_mm, axis=1).mean() - tube_mm
    hoop, tube = np.meshgrid(np.linspace(0, 2 * np.pi, 361), np.linspace(0, 2 * np.pi, 73))
    out_mm = hoop_mm + tube_mm * np.cos(tube)
    flat = np.stack([out_mm * np.cos(hoop), out_mm * np.sin(hoop), tube_mm * np.sin(tube)], axis=-1)
    axes = np.stack([across, down, np.cross(across, down)])
    camera = truth["camera"]
    rotation, _ = cv2.Rodrigues(np.array(camera["rotation"]))
    matrix = np.diag([camera["focal_px"], camera["focal_y_px"], 1.0])
    matrix[:2, 2] = camera["centre_px"]
    surface_px, _ = cv2.projectPoints(
        flat.reshape(-1, 3) @ axes + middle_mm - camera["position_mm"],
        rotation,
        np.zeros(3),
        matrix,
        np.array([camera["k1"], 0, 0, 0]),
    )
    return cv2.convexHull(surface_px.astype(np.float32))[:, 0].astype(float)


def main(
    folder: Annotated[Path, typer.Argument(help="Rendered photos with their JSON truths.")],
    part: Annotated[Part, typer.Option(help="Scenes of which number.")] = Part.ODD,
) -> None:
    """Look for the reference in every photo and print how well it was found."""
    looks: list[Found] = []
    truths = [truth for truth in read_truths(folder) if part.holds(truth["index"])]
    for truth in track(truths, description="Looking"):
        photo = read_photo(folder / truth["photo"])
        body = pose_model().find(photo)
        look = body and look_for_reference(photo, body, truth)
        if look:
            looks.append(look)
    for look in looks:
        off = f"{np.abs(look.off_px).max():6.2f} px at most" if look.off_px.size else ""
        typer.echo(f"{look.photo:18} {look.kind:7} {look.size_px:5.0f} px {look.verdict:20} {off}")
    by_kind: dict[str, list[Found]] = defaultdict(list)
    for look in looks:
        by_kind[look.kind].append(look)
    typer.echo("kind      photos  found  wrong  refused   rms px   mean px")
    for kind, group in sorted(by_kind.items()):
        found = [look.off_px for look in group if look.verdict == "found"]
        wrong = sum(look.verdict == "wrong" for look in group)
        off_px = np.concatenate([_NOTHING, *found])
        spread = f"{np.sqrt(np.mean(off_px**2)):8.2f}  {off_px.mean():8.2f}" if found else ""
        typer.echo(
            f"{kind:9} {len(group):6} {len(found):6} {wrong:6}"
            f" {len(group) - len(found) - wrong:8} {spread}"
        )


if __name__ == "__main__":
    typer.run(main)
