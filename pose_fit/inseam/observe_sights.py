"""Every finder looks at the photo once; what a person clicked goes before what is found."""

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.anthropometry.soles import soles_in_picture_mm
from pose_fit.body.body import Body
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import LegGeometry, foot_reach_mm
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import cast
from pose_fit.reference.reference import Reference
from pose_fit.sights.candidates import ToesCandidate, WallBaseCandidate
from pose_fit.sights.clicked import clicked_crotch, clicked_toes
from pose_fit.sights.cloth_print import may_be_of_cloth
from pose_fit.sights.crotch import find_crotch
from pose_fit.sights.learned import (
    find_learned,
    with_learned,
    with_learned_base,
    with_learned_joints,
)
from pose_fit.sights.legs_network import LegsNetwork
from pose_fit.sights.toes import find_toes
from pose_fit.sights.wall_base import find_wall_base
from pose_fit.task.stated import Stated

__all__ = ["observe_sights"]


def observe_sights(
    photo: Photo,
    body: Body,
    reference: Reference,
    plane: PlaneScale,
    legs: LegGeometry,
    stated: Stated,
    *,
    model: ErrorModel,
    network: LegsNetwork | None = None,
) -> PhotoSights:
    """Candidates for crotch, toes and wall base; none is weighed against another one yet.

    ``network`` is the shipped one where none is given.
    """
    crotches = find_crotch(photo, body) if stated.legwear != "hidden" else ()
    if stated.legwear is None and may_be_of_cloth(photo, body, crotches):
        crotches = ()
    learned = find_learned(photo, body, network=network)
    # Without a line between the legs it may be a skirt, through which the network sees nothing.
    may_be_skirt = stated.legwear == "hidden" or (stated.legwear is None and not crotches)
    if stated.crotch_px is not None:
        crotches = clicked_crotch(body, stated.crotch_px, seen=crotches)
    elif not may_be_skirt:
        crotches = with_learned(crotches, learned, leg_px=body.leg_px)
    toes = find_toes(photo, body) if stated.floor_px is None else clicked_toes(stated.floor_px)
    soles_mm, soles_sd_mm = soles_in_picture_mm(stated.soles_mm)
    wall_bases: tuple[WallBaseCandidate, ...] = ()
    base_above_mm = 0.0
    if reference.placement == "wall":
        base = find_wall_base(
            photo,
            body,
            plane,
            floor_mm=_floor_mm(plane, legs, toes, soles_mm=soles_mm, model=model),
            down=legs.down,
            occupied_px=reference.image_px,
        )
        wall_bases = with_learned_base(base.candidates, learned, leg_px=body.leg_px)
        base_above_mm = base.far_above_mm
    return PhotoSights(
        plane=plane,
        reference=reference,
        body=with_learned_joints(body, learned, kept=dict(stated.joints_px)),
        crotches=crotches,
        toes=toes,
        wall_bases=wall_bases,
        base_above_mm=base_above_mm,
        soles_mm=soles_mm,
        soles_sd_mm=soles_sd_mm,
        legwear=stated.legwear,
        is_unfamiliar=learned is None,
        seen_body=body,
    )


def _floor_mm(
    plane: PlaneScale,
    legs: LegGeometry,
    toes: tuple[ToesCandidate, ...],
    *,
    soles_mm: float,
    model: ErrorModel,
) -> NDArray[np.float64]:
    """(3,) where the search for the floor starts, below the hips.

    By the ankles; half way to what toes say, which err apart.
    """
    ankle = people().ankle_height_from_hip_to_ankle
    ankle_height_mm = ankle.mean_mm(legs.straight_mm)
    hips_mm = legs.hips_mm.mean(axis=0)

    def below_hips_mm(feet_mm: NDArray[np.float64]) -> float:
        return float((feet_mm.mean(axis=0) - hips_mm) @ legs.down)

    below_mm = below_hips_mm(legs.ankles_mm) + ankle_height_mm + soles_mm
    if toes:
        depth_mm = model.gap_at_wall_mm[0] + model.reach_mm[0] + foot_reach_mm(legs.straight_mm)
        by_toes_mm = below_hips_mm(cast(plane.parameters, toes[0].points_px, depth_mm))
        below_mm = (below_mm + by_toes_mm) / 2
    floor_mm: NDArray[np.float64] = hips_mm + below_mm * legs.down
    return floor_mm
