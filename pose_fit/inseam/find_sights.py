"""What a photo shows of crotch and floor, less what the rest of the picture contradicts."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.body.body import Body
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import LegGeometry, foot_reach_mm
from pose_fit.inseam.photo_reading import UNKNOWN_SOLES_MM, PhotoReading, PhotoSights, read_inseam
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale, cast
from pose_fit.reference.reference import Reference
from pose_fit.refusal import Notice
from pose_fit.sights.clicked import CROTCH_GUESSED, clicked_crotch
from pose_fit.sights.crotch import CROTCH_HIDDEN, CrotchPoint, find_crotch
from pose_fit.sights.toes import find_toes
from pose_fit.sights.wall_base import find_wall_foot
from pose_fit.task.stated import Stated

__all__ = ["FoundSights", "find_sights"]

#: A line between the legs that ends this far below where the hips put the crotch, in standard
#: uncertainties of the difference, is no crotch.
HIDDEN_CROTCH: Final = 2.5
#: A floor by the foot of the wall this far above that by the toes, or this far below it, is
#: another edge. Boards and shadows on the floor offer more of them, and call a child taller.
#: Heels 50 to 100 mm off the wall put it 1 to 4 above: there it is what tells of them.
WRONG_WALL_FOOT: Final = (4.0, 1.5)
#: A ruler on the sole's edge.
SOLES_SD_MM: Final = 3.0


@dataclass(frozen=True, slots=True)
class FoundSights:
    """What serves the reading, the reading, and why the crotch is hidden or guessed, or None."""

    sights: PhotoSights
    reading: PhotoReading
    crotch_doubt: Notice | None


def find_sights(
    photo: Photo,
    body: Body,
    reference: Reference,
    plane: PlaneScale,
    legs: LegGeometry,
    said: Stated,
    *,
    model: ErrorModel,
) -> FoundSights:
    """Look for crotch, toes and foot of the wall; what a person clicked goes before what is found."""
    seen = find_crotch(photo, body) if said.legwear != "hidden" else CROTCH_HIDDEN
    sights = _sights(photo, body, reference, plane, legs, seen, said, model)
    reading = read_inseam(sights, model=model)
    above, below = WRONG_WALL_FOOT
    if not -above <= reading.floors_apart <= below:
        # The feet are surely feet; another edge was taken for the foot of the wall.
        sights = replace(sights, wall_foot_px=None)
        reading = read_inseam(sights, model=model)
    if sights.crotch is not None and reading.disagreement < -HIDDEN_CROTCH:
        # Far below where the hips put it the line ends at a hem or in loose cloth.
        seen = CROTCH_HIDDEN
        sights = replace(sights, crotch=None)
        reading = read_inseam(sights, model=model)
    if said.crotch_px is not None:
        crotch = clicked_crotch(body, said.crotch_px, seen=seen)
        seen = CROTCH_GUESSED if isinstance(seen, Notice) else crotch
        sights = replace(sights, crotch=crotch, crotch_clicked=True)
        reading = read_inseam(sights, model=model)
    return FoundSights(sights, reading, seen if isinstance(seen, Notice) else None)


def _sights(
    photo: Photo,
    body: Body,
    reference: Reference,
    plane: PlaneScale,
    legs: LegGeometry,
    crotch: CrotchPoint | Notice,
    said: Stated,
    model: ErrorModel,
) -> PhotoSights:
    is_clicked = said.floor_px is not None
    toes_px = np.array([said.floor_px] * 2, float) if is_clicked else find_toes(photo, body)
    soles_mm, soles_sd_mm = (
        UNKNOWN_SOLES_MM if said.soles_mm is None else (said.soles_mm, SOLES_SD_MM)
    )
    wall_foot_px = None
    if reference.placement == "wall":
        toes_mm = None
        if toes_px is not None:
            depth_mm = model.gap_mean_mm + model.reach_mean_mm + foot_reach_mm(legs.straight_mm)
            toes_mm = cast(plane.parameters, toes_px, depth_mm)
        wall_foot_px = find_wall_foot(
            photo,
            body,
            plane,
            floor_mm=_floor_mm(legs, toes_mm, soles_mm=soles_mm),
            down=legs.down,
            occupied_px=reference.image_px,
        )
    return PhotoSights(
        plane=plane,
        reference=reference,
        body=body,
        crotch=crotch if isinstance(crotch, CrotchPoint) else None,
        toes_px=toes_px,
        wall_foot_px=wall_foot_px,
        soles_mm=soles_mm,
        soles_sd_mm=soles_sd_mm,
        legwear=said.legwear,
        floor_clicked=is_clicked,
    )


def _floor_mm(
    legs: LegGeometry, toes_mm: NDArray[np.float64] | None, *, soles_mm: float
) -> NDArray[np.float64]:
    """(3,) floor below the hips, by the ankles; half way to what toes say, which err apart."""
    ankle = people().ankle_height_from_hip_to_ankle
    ankle_height_mm = ankle.intercept_mm + ankle.slope * legs.straight_mm
    hips_mm = legs.hips_mm.mean(axis=0)

    def below_hips_mm(feet_mm: NDArray[np.float64]) -> float:
        return float((feet_mm.mean(axis=0) - hips_mm) @ legs.down)

    by_ankles_mm = below_hips_mm(legs.ankles_mm) + ankle_height_mm + soles_mm
    by_toes_mm = by_ankles_mm if toes_mm is None else below_hips_mm(toes_mm)
    floor_mm: NDArray[np.float64] = hips_mm + (by_toes_mm + by_ankles_mm) / 2 * legs.down
    return floor_mm
