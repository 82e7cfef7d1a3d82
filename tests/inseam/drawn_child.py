"""Children drawn in front of a drawn camera, as the finders would see them: no picture is made.

Where the child stands, how long feet and shoes are and how the body leans is drawn from ranges
of its own, not from the error model, so that the fusion is tried on depths it was not told of.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from pose_fit.anthropometry.people import people
from pose_fit.body.body import LANDMARKS, LEG_LANDMARKS, Body
from pose_fit.inseam.cloth_hang import hang_below_crotch_mm
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import STANCE_ANKLES_APART_MM, foot_reach_mm
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import PARAMETER_COUNT, project
from pose_fit.reference.reference import PointReference
from pose_fit.sights.candidates import CrotchCandidate, ToesCandidate, WallBaseCandidate

__all__ = ["Drawn", "draw_child"]

#: Ranges of what is drawn evenly: heels at the wall and free of it, shoe beyond the foot, ankle
#: before heel, hip before ankle of one who stands free, and crotch before hip in straight legs.
GAP_MM: Final = {"at wall": (0.0, 60.0), "free": (20.0, 130.0)}
SHOE_MM: Final = (0.0, 35.0)
ANKLE_PART: Final = (0.075, 0.115)
HIP_PART: Final = (-0.03, 0.07)
#: Hip before a wall that the seat touches.
SEAT_PART: Final = (0.11, 0.20)
CROTCH_PART: Final = (0.08, 0.16)

_Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A child's true inseam and what is seen of it."""

    inseam_mm: float
    sights: PhotoSights


def draw_child(
    rng: np.random.Generator,
    *,
    model: ErrorModel,
    stance: str = "at wall",
    wrong_base_mm: float | None = None,
    wrong_crotch_mm: float | None = None,
    pitch_rad: float | None = None,
) -> Drawn:
    """One child in one photo.

    Parameters
    ----------
    stance
        ``at wall`` or ``free``.
    wrong_base_mm, wrong_crotch_mm
        A second candidate so far below the right one, which the finder believes in more.
    pitch_rad
        How far the camera looks down; drawn where None.
    """
    straight_mm = rng.uniform(380, 760)
    ankle, by_hip = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    ankle_mm = ankle.mean_mm(straight_mm) + rng.normal(0, ankle.person_sd_mm + 3)
    hip_mm = straight_mm + ankle_mm
    inseam_mm = by_hip.mean_mm(hip_mm) + rng.normal(0, by_hip.person_sd_mm)
    soles_mm = rng.uniform(0, 25)
    gap_mm = rng.uniform(*GAP_MM[stance])
    ankle_z = gap_mm + rng.uniform(*ANKLE_PART) * straight_mm
    hip_z = ankle_z + rng.uniform(*HIP_PART) * straight_mm
    if stance == "at wall":
        hip_z = rng.uniform(*SEAT_PART) * straight_mm
    crotch_z = hip_z + rng.uniform(*CROTCH_PART) * straight_mm
    toes_z = gap_mm + foot_reach_mm(straight_mm) + rng.normal(0, 8) + rng.uniform(*SHOE_MM)
    half = STANCE_ANKLES_APART_MM / 2
    plane, true_plane = _camera(rng, pitch_rad)

    def seen(*points: tuple[float, float, float]) -> _Array:
        # Given as across, height over the floor, before the wall.
        points_mm = np.array([(x, 700.0 - height, -depth) for x, height, depth in points])
        return project(true_plane, points_mm)

    hang_mm, hang_sd_mm = hang_below_crotch_mm("snug", model=model)
    crotch_height = soles_mm + inseam_mm - hang_mm - rng.normal(0, hang_sd_mm)
    shift = rng.normal(model.shift_parts, model.shift_part_sds) * straight_mm
    hip_height, ankle_height = soles_mm + hip_mm - shift[0], soles_mm + ankle_mm - shift[1]
    knee_height, knee_z = (
        (hip_height + ankle_height) / 2,
        (hip_z + ankle_z) / 2 + 0.015 * straight_mm,
    )
    joints_px = seen(
        (half, hip_height, hip_z),
        (-half, hip_height, hip_z),
        (half, knee_height, knee_z),
        (-half, knee_height, knee_z),
        (half, ankle_height, ankle_z),
        (-half, ankle_height, ankle_z),
    )
    leg_px = float(np.linalg.norm(joints_px[:2].mean(axis=0) - joints_px[4:].mean(axis=0)))
    own_px = np.repeat(model.joint_sd_parts, 2)[:, None] * leg_px
    joints_px = joints_px + rng.normal(0, 1, joints_px.shape) * own_px
    base = [_base(rng, seen, 0.0, leg_px, model)]
    crotches = [seen((0.0, crotch_height, crotch_z))[0]]
    if wrong_base_mm is not None:
        base.append(_base(rng, seen, -wrong_base_mm, leg_px, model))
    if wrong_crotch_mm is not None:
        crotches.append(seen((0.0, crotch_height - wrong_crotch_mm, crotch_z))[0])
    beliefs = (0.85,) if wrong_base_mm is None else (0.35, 0.5)
    crotch_beliefs = (0.93,) if wrong_crotch_mm is None else (0.35, 0.55)
    toe_sd_px = model.toe_sd_part * leg_px
    toes_px = seen((half, 0.0, toes_z), (-half, 0.0, toes_z)) + rng.normal(0, toe_sd_px, (2, 2))
    sights = PhotoSights(
        plane=plane,
        reference=_reference(),
        body=_body(joints_px),
        crotches=tuple(
            CrotchCandidate(point + rng.normal(0, 2.0, 2), 2.0, belief)
            for point, belief in zip(crotches, crotch_beliefs, strict=True)
        ),
        toes=(ToesCandidate(toes_px, 0.95),),
        wall_bases=tuple(
            WallBaseCandidate(line, belief) for line, belief in zip(base, beliefs, strict=True)
        ),
        soles_mm=soles_mm + rng.normal(0, 3.0),
        soles_sd_mm=3.0,
        legwear="snug",
    )
    return Drawn(float(inseam_mm), sights)


def _camera(rng: np.random.Generator, pitch_rad: float | None) -> tuple[PlaneScale, _Array]:
    """A solved plane with its error, and the true one; the floor lies 700 mm below the origin."""
    pitch = rng.uniform(0.0, 0.35) if pitch_rad is None else pitch_rad
    distance_mm = rng.uniform(2000, 3500)
    turn = Rotation.from_euler("xyz", [pitch, rng.uniform(-0.15, 0.15), rng.uniform(-0.03, 0.03)])
    true = np.zeros(PARAMETER_COUNT)
    true[:3] = turn.as_rotvec()
    true[3:6] = rng.uniform(-200, 200), rng.uniform(-150, 150), distance_mm
    true[6], true[7:9] = np.log(rng.uniform(1000, 1400)), (600.0, 800.0)
    shifts = np.zeros((PARAMETER_COUNT, 4))
    # What the corners leave open: focal length with distance, tilt, size.
    shifts[6, 0], shifts[5, 0] = 0.01, 0.01 * distance_mm
    shifts[0, 1] = shifts[1, 2] = 0.004
    shifts[5, 3] = 0.003 * distance_mm
    plane = PlaneScale(
        true + shifts @ rng.standard_normal(4),
        shifts,
        ("focal length", "camera tilt", "camera tilt", "reference size"),
        1.0,
    )
    return plane, true


def _base(
    rng: np.random.Generator,
    seen: Callable[..., _Array],
    height_mm: float,
    leg_px: float,
    model: ErrorModel,
) -> _Array:
    line = seen((-250.0, height_mm, 8.0), (250.0, height_mm, 8.0))
    return np.asarray(line + rng.normal(0, model.wall_base_sd_part * leg_px, (2, 2)))


def _reference() -> PointReference:
    corners = np.array([[0.0, 0.0], [200.0, 0.0], [200.0, 280.0], [0.0, 280.0]])
    return PointReference(
        kind="sheet",
        placement="wall",
        object_mm=corners,
        image_px=corners,
        point_sd_px=0.5,
        log_size_sd=0.003,
        log_aspect_sd=0.002,
    )


def _body(joints_px: _Array) -> Body:
    looks = np.zeros((3, len(LANDMARKS), 2))
    for place, mark in enumerate(LEG_LANDMARKS):
        looks[:, LANDMARKS.index(mark)] = joints_px[place]
    return Body(looks, np.ones(len(LANDMARKS)), np.zeros((1, 1), np.float32))
