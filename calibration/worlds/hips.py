"""Where the truth puts the hip joints of a rendered child.

The body model's hip joint is a handle for its skin and no anatomy: 89 mm over the crotch of a child
of 8 years, where measured children have 56. To bring it to their height the pelvis would be
squeezed, and the pose model, which goes by what the pelvis looks like, would guess the hips
30 mm lower over the crotch than in a body left as it is. So the shape stays, and the joint is told
to be where measured children of this crotch height have theirs.
"""

from collections.abc import Mapping
from typing import Any

import numpy as np

from calibration.scenes.camera import Camera, Window
from pose_fit.anthropometry.people import people

__all__ = ["measured_hip_mm", "with_measured_hips"]


def measured_hip_mm(inseam_mm: float) -> float:
    """Height of the hip joints, erect, from which measured children would be told this inseam."""
    by_hip = people().inseam_from_hip_height
    return (inseam_mm - by_hip.intercept_mm) / by_hip.slope


def with_measured_hips(
    truth: Mapping[str, Any], *, camera: Camera, window: Window
) -> dict[str, Any]:
    """The truth with the hip joints moved along the thighs to where measured children have them."""
    erect = truth["erect_joint_heights_mm"]
    wanted_mm = measured_hip_mm(truth["inseam_mm"])
    share = (wanted_mm - erect["knee"]) / (erect["hip"] - erect["knee"])
    moved_mm, moved_px = dict(truth["landmarks_mm"]), dict(truth["landmarks_px"])
    for side in ("left", "right"):
        knee_mm = np.array(moved_mm[f"knee_{side}"])
        hip_mm = knee_mm + share * (np.array(moved_mm[f"hip_{side}"]) - knee_mm)
        moved_mm[f"hip_{side}"] = np.round(hip_mm, 2).tolist()
        pixels = window.apply(camera.project(hip_mm[None]))[0]
        moved_px[f"hip_{side}"] = np.round(pixels, 3).tolist()
    return {
        **truth,
        "landmarks_mm": moved_mm,
        "landmarks_px": moved_px,
        "erect_joint_heights_mm": {**erect, "hip": round(wanted_mm, 2)},
    }
