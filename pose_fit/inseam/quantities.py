"""The inputs of a photo's measurement equation with their uncertainties, in its order.

The inputs are independent of each other. The plane's depend on the picture of the
reference alone, apart from the direction of the legs, whose error is of second order.
"""

import math
from typing import Final

import numpy as np

from pose_fit.anthropometry.people import Relation, people
from pose_fit.body.body import LEG_LANDMARKS, Body
from pose_fit.budget_sources import BudgetSource
from pose_fit.inseam.cloth_hang import hang_below_crotch_mm, skin_below_part
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from pose_fit.metrology.propagation import Quantity, independent
from pose_fit.photo.click_error import ON_BODY_SD_LEGS
from pose_fit.sights.candidates import ToesCandidate
from pose_fit.sights.wall_base import SKIRTING_DEPTH_MM

__all__ = ["CLOTHING_SOURCE", "GAP_SOURCE", "POSTURE_SOURCES", "quantities_of"]

#: Name of the gap's line in the budget: the heels' distance from the reference's plane.
GAP_SOURCE: Final = "distance from the wall"
#: Name of the line for what is worn on the legs.
CLOTHING_SOURCE: Final = "clothing"
#: Columns of the posture, all of one line: ankle before heel, hip before ankle, knee, line's end.
POSTURE_SOURCES: Final[tuple[BudgetSource, ...]] = ("posture",) * 4
#: Sources of the plane's evidence that return in every photo of the same child.
_SHARED_PLANE_SOURCES: Final[tuple[BudgetSource, ...]] = ("reference size", "reference shape")


def quantities_of(sights: PhotoSights, *, model: ErrorModel) -> list[Quantity]:
    """The inputs, with the heels at the wall where the reference hangs on one."""
    plane, body = sights.plane, sights.body
    legs = legs_of(plane, body, beside=sights.is_beside, model=model)
    ankle, hip = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    gap_sd_mm = model.beside_sd_mm if sights.is_beside else model.gap_at_wall_mm[1]
    quantities = [
        Quantity(
            plane.parameters,
            plane.shifts,
            plane.sources,
            tuple(source in _SHARED_PLANE_SOURCES for source in plane.sources),
        ),
        _joints(body, model),
        independent(GAP_SOURCE, [model.gap_mm(beside=sights.is_beside)], [gap_sd_mm], shared=False),
        _posture(sights, model),
        independent("pose model", list(model.shift_parts), list(model.shift_part_sds), shared=True),
        _departures(ankle, hip, legs.straight_mm),
        independent("shoe soles", [sights.soles_mm], [sights.soles_sd_mm], shared=True),
    ]
    if sights.crotches:
        quantities += _crotches(sights, model)
    if sights.book is not None:
        book = sights.book
        quantities += [
            independent("book", list(book.point_px), [book.edge_sd_px] * 2, shared=False),
            independent("book", [book.depth_mm], [book.depth_sd_mm], shared=False),
            independent("book", [book.level_mm], [book.level_sd_mm], shared=False),
        ]
    if sights.toes:
        reach_mm, reach_sd_mm = model.reach_mm
        reach_mm -= model.mean_depth_part(beside=sights.is_beside) * legs.straight_mm
        quantities += [_toes(toes, body.leg_px, model=model) for toes in sights.toes]
        quantities.append(independent("foot length", [reach_mm], [reach_sd_mm], shared=True))
    if sights.wall_bases:
        line_sd_px = model.wall_base_sd_part * body.leg_px
        before_mm, before_sd_mm = SKIRTING_DEPTH_MM
        quantities += [
            independent("floor", list(base.line_px.ravel()), [line_sd_px] * 4, shared=False)
            for base in sights.wall_bases
        ]
        quantities.append(independent("floor", [before_mm], [before_sd_mm], shared=True))
    return quantities


def _crotches(sights: PhotoSights, model: ErrorModel) -> list[Quantity]:
    """Each crotch in the picture; how far cloth hangs, and how well its skin is guessed."""
    quantities = [
        independent(
            "crotch click" if crotch.is_clicked else "crotch edge",
            list(crotch.point_px),
            [crotch.edge_sd_px] * 2,
            shared=False,
        )
        for crotch in sights.crotches
    ]
    if not all(crotch.is_at_skin for crotch in sights.crotches):
        hang_mm, hang_sd_mm = hang_below_crotch_mm(sights.legwear, model=model)
        quantities.append(independent(CLOTHING_SOURCE, [hang_mm], [hang_sd_mm], shared=True))
    skin = next((crotch for crotch in sights.crotches if crotch.is_at_skin), None)
    if skin is not None:
        below_part, below_sd_part = skin_below_part(sights.legwear, skin.hang_part, model=model)
        # How far behind the line's end it lies is unsure by what the depth itself is.
        below = Quantity(
            np.array([below_part, model.line_before_crotch]),
            np.array([[below_sd_part], [0.0]]),
            (CLOTHING_SOURCE,),
            (True,),
        )
        quantities.append(below)
    return quantities


def _joints(body: Body, model: ErrorModel) -> Quantity:
    """Joint positions: the scatter of the looks, and what returns in all looks at one photo."""
    looks = len(body.passes_px)
    own_sd_px = np.array([body.scatter_px(mark) for mark in LEG_LANDMARKS]).ravel()
    # Two landmarks a joint, two coordinates a landmark.
    floor_px = np.repeat(model.joint_sd_parts, 4) * body.leg_px
    sd_px = np.hypot(model.scatter_factor * own_sd_px / math.sqrt(looks), floor_px)
    joints_px = body.points_px(LEG_LANDMARKS)
    return independent("pose landmarks", list(joints_px.ravel()), list(sd_px), shared=False)


def _posture(sights: PhotoSights, model: ErrorModel) -> Quantity:
    """Depths of hip, knee, ankle and crotch: what stands on the foot moves with it."""
    factor = np.array(
        [
            # Ankle before heel, hip before ankle, knee before the line between, crotch before hip.
            [1.0, 1.0, 0.0, 0.0],
            [1.0, 0.5, 1.0, 0.0],
            [1.0, 0.0, 0.0, 0.0],
            [1.0, 1.0, 0.0, 1.0],
        ]
    )
    sds = np.array(
        [
            model.ankle_before_heel[1],
            model.hip_before_ankle[1],
            model.knee_before_line[1],
            model.crotch_before_hip[1],
        ]
    )
    if sights.is_beside:
        # Depths count from the mean of the joints' own.
        factor -= factor[:3].mean(axis=0)
    return Quantity(
        model.depth_parts(beside=sights.is_beside), factor * sds, POSTURE_SOURCES, (False,) * 4
    )


def _toes(toes: ToesCandidate, leg_px: float, *, model: ErrorModel) -> Quantity:
    """Lowest points of the feet; one point that stands for both makes them err as one."""
    places = toes.points_px.ravel()
    sd_px = (ON_BODY_SD_LEGS if toes.is_clicked else model.toe_sd_part) * leg_px
    source: BudgetSource = "floor click" if toes.is_clicked else "floor"
    if toes.is_single:
        return Quantity(places, np.tile(sd_px * np.eye(2), (2, 1)), (source,) * 2, (False,) * 2)
    return independent(source, list(places), [sd_px] * 4, shared=False)


def _departures(ankle: Relation, hip: Relation, straight_mm: float) -> Quantity:
    """How far this child is from the regressions: between persons, and of the lines themselves."""
    hip_height_mm = straight_mm + ankle.mean_mm(straight_mm)
    factor = np.zeros((2, 4))
    for row, (line, x_mm) in enumerate(((ankle, straight_mm), (hip, hip_height_mm))):
        factor[row, 2 * row] = line.person_sd_at_mm(x_mm)
        factor[row, 2 * row + 1] = line.systematic_sd_at_mm(x_mm)
    return Quantity(
        np.zeros(2), factor, ("ankle height",) * 2 + ("hip to crotch",) * 2, (True,) * 4
    )
