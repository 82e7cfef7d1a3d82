"""A made-up child in front of a true camera, seen without error except where a test puts one in."""

from dataclasses import replace

import numpy as np

from calibration.scored import Scored
from pose_fit.body.body import LANDMARKS, LEG_LANDMARKS, Body
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import project
from pose_fit.reference.printed_sheet import marker_corners_mm
from pose_fit.reference.reference import PointReference
from pose_fit.sights.candidates import CrotchCandidate, ToesCandidate, WallBaseCandidate
from tests.calibration.scored_photos import truth_of

ORIGIN_MM = np.array([-300.0, -500.0, 0.0])
CAMERA_MM = np.array([0.0, -1000.0, -2500.0])
FOCAL_PX, CENTRE_PX = 900.0, (449.5, 599.5)
LANDMARKS_MM = {
    "hip_left": (60.0, -520.0, -90.0),
    "hip_right": (-60.0, -520.0, -90.0),
    "knee_left": (64.0, -300.0, -92.0),
    "knee_right": (-64.0, -300.0, -92.0),
    "ankle_left": (67.5, -60.0, -85.0),
    "ankle_right": (-67.5, -60.0, -85.0),
    "heel_left": (67.5, 0.0, -30.0),
    "heel_right": (-67.5, 0.0, -30.0),
    "crotch": (0.0, -450.0, -110.0),
}
#: Of the sheet’s markers, in the plane of the wall.
CORNERS_MM = np.pad(np.concatenate(list(marker_corners_mm().values())), ((0, 0), (0, 1)))
STRAIGHT_MM = 460.1731
#: Nothing is biased, and the child stands as the model has it, at the wall.
MODEL = replace(
    error_model(),
    gap_at_wall_mm=(30.0, 18.0),
    free_share=1e-12,
    ankle_before_heel=(55 / STRAIGHT_MM, 0.02),
    hip_before_ankle=(5 / STRAIGHT_MM, 0.03),
    hip_before_wall=(90 / STRAIGHT_MM, 0.03),
    knee_before_line=(4.5 / STRAIGHT_MM, 0.015),
    crotch_before_hip=(20 / STRAIGHT_MM, 0.03),
    hang_means_mm=(0.0, 0.0, 0.0),
    shift_parts=(0.0, 0.0),
    interval_factor=1.0,
    legs_only_factor=1.0,
    world_sd_mm=1e-6,
)


def true_plane(*, log_focal_error=0.0):
    parameters = np.zeros(12)
    parameters[3:6] = ORIGIN_MM - CAMERA_MM
    parameters[6:9] = np.log(FOCAL_PX) + log_focal_error, *CENTRE_PX
    shifts = np.zeros((12, 1))
    shifts[6] = 0.02
    return PlaneScale(parameters, shifts, ("focal length",), 1.0)


def _px(*points_mm):
    return project(true_plane().parameters, np.array(points_mm, float) - ORIGIN_MM)


def child_truth(**changes):
    pixels = {name: _px(point)[0].tolist() for name, point in LANDMARKS_MM.items()}
    corners_mm = ORIGIN_MM + CORNERS_MM
    truth = truth_of(
        inseam_mm=450.0,
        soles_mm=0.0,
        landmarks_mm={name: list(point) for name, point in LANDMARKS_MM.items()},
        landmarks_px=pixels,
        erect_joint_heights_mm={"hip": 520.0, "knee": 300.0, "ankle": 60.0},
        reference={
            "kind": "sheet",
            "origin_mm": ORIGIN_MM.tolist(),
            "ruler_mm": None,
            "print_scale": 1.0,
            "points_px": {"corners": _px(*corners_mm).tolist()},
        },
        camera={
            "focal_px": FOCAL_PX,
            "focal_y_px": FOCAL_PX,
            "centre_px": list(CENTRE_PX),
            "k1": 0.0,
            "position_mm": CAMERA_MM.tolist(),
            "rotation": np.eye(3).tolist(),
            "true_focal_35mm": 26.0,
        },
    )
    return truth | changes


def seen_child(
    *, plane=None, hips_down_px=0.0, soles_mm=0.0, crotch_down_px=0.0, model=MODEL, **changes
):
    truth = child_truth(**changes)
    looks = np.zeros((3, len(LANDMARKS), 2))
    for mark in LEG_LANDMARKS:
        side, joint = mark.split("_")
        point = np.array(truth["landmarks_px"][f"{joint}_{side}"])
        point[1] += hips_down_px * (joint == "hip")
        looks[:, LANDMARKS.index(mark)] = point
    reference = PointReference(
        kind="sheet",
        placement="wall",
        object_mm=CORNERS_MM[:, :2],
        image_px=_px(*(ORIGIN_MM + CORNERS_MM)),
        point_sd_px=0.5,
        log_size_sd=0.003,
        log_aspect_sd=0.002,
    )
    crotch_px = np.array(truth["landmarks_px"]["crotch"])
    crotch_px[1] += crotch_down_px
    sights = PhotoSights(
        plane=plane or true_plane(),
        reference=reference,
        body=Body(looks, np.ones(len(LANDMARKS)), np.zeros((1, 1), np.float32)),
        crotches=(CrotchCandidate(crotch_px, 1.0, 1.0),),
        toes=(ToesCandidate(_px((67.5, 0.0, -200.0), (-67.5, 0.0, -200.0)), 1.0),),
        wall_bases=(WallBaseCandidate(_px((-300.0, 0.0, -8.0), (300.0, 0.0, -8.0)), 1.0),),
        soles_mm=soles_mm,
        soles_sd_mm=3.0,
    )
    return Scored(truth, sights, read_inseam(sights, model=model))
