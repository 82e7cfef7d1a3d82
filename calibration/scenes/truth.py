"""What is true of a rendered photo, as one JSON file beside it.

Pixels are those of the final upright picture (after distortion, crop and resize), with
(0, 0) the middle of the top left pixel. Millimetres are in the wall frame of
:mod:`calibration.scenes.scene`.
"""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.body import SKIN_VERTICES
from calibration.scenes.camera import Camera, Window
from calibration.scenes.posing import (
    Posed,
    crotch_ring_mm,
    erect_joints_mm,
    heel_gap_mm,
    inseam_mm,
    stature_mm,
)
from calibration.scenes.references import Mounted, plane_of
from calibration.scenes.scene import Bar, Door, Paper, Scene, Wheel

__all__ = ["Landmarks", "TRUTH_VERSION", "landmarks_of", "read_truths", "truth_of", "write_truth"]

TRUTH_VERSION: Final = 1
_JOINTS: Final = {
    "hip": "upperleg01",
    "knee": "lowerleg01",
    "ankle": "foot",
    "shoulder": "upperarm01",
}


@dataclass(frozen=True, eq=False, slots=True)
class Landmarks:
    """Named points of the posed child in the wall frame."""

    points_mm: Mapping[str, NDArray[np.float64]]

    def leg_joints_mm(self) -> NDArray[np.float64]:
        """Hips, knees, ankles, (6, 3)."""
        return np.stack(
            [
                self.points_mm[f"{j}_{s}"]
                for j in ("hip", "knee", "ankle")
                for s in ("left", "right")
            ]
        )


def landmarks_of(posed: Posed) -> Landmarks:
    """Joint centres, crotch, heels, toes and top of the head."""
    vertices_mm = posed.vertices_mm
    skin = vertices_mm[:SKIN_VERTICES]
    points: dict[str, NDArray[np.float64]] = {}
    for side, mark in (("left", "L"), ("right", "R")):
        for joint, bone in _JOINTS.items():
            points[f"{joint}_{side}"] = posed.joint_mm(f"{bone}.{mark}")
        own = posed.body.parts.bones_weight(f"foot.{mark}", *(f"toe{n}" for n in range(1, 6)))
        is_side = (posed.body.vertices_mm[:SKIN_VERTICES, 0] > 0) == (mark == "L")
        foot = skin[(own[:SKIN_VERTICES] > 0.5) & is_side]
        # Forward of a foot is away from its ankle, whatever the toes point at.
        ankle = points[f"ankle_{side}"]
        far = foot - ankle
        toe = foot[np.argmax(np.hypot(far[:, 0], far[:, 2]))]
        forward = (toe - ankle)[[0, 2]] / np.hypot(*(toe - ankle)[[0, 2]])
        heel = foot[np.argmin(far[:, [0, 2]] @ forward)]
        points[f"toe_{side}"] = toe
        points[f"heel_{side}"] = np.array([heel[0], 0.0, heel[2]])
    points["crotch"] = vertices_mm[posed.body.crotch_vertex]
    points["head_top"] = skin[np.argmin(skin[:, 1])]
    return Landmarks(points_mm=points)


def truth_of(
    scene: Scene,
    *,
    drawn: Scene,
    photo: str,
    posed: Posed,
    landmarks: Landmarks,
    mounted: Mounted,
    camera: Camera,
    window: Window,
    crotch_drop_mm: float,
) -> dict[str, Any]:
    """Everything true of a photo, ready for JSON.

    ``drawn`` is the scene before a lens that saw too little was changed for a wider one.
    """

    def pixels(points_mm: NDArray[np.float64]) -> list[Any]:
        return _rounded(window.apply(camera.project(points_mm)), 3)

    body = posed.body
    scale = window.scale
    centre = window.apply(np.array([camera.centre_px]))[0]
    erect = erect_joints_mm(body)
    hidden = scene.dress.legwear == "hidden"
    return {
        "version": TRUTH_VERSION,
        "photo": photo,
        "seed": scene.seed,
        "index": scene.index,
        "photo_of_child": scene.photo,
        "age_years": scene.person.age_years,
        "sex": scene.person.sex,
        "inseam_mm": round(inseam_mm(body), 2),
        "stature_mm": round(stature_mm(posed), 1),
        "soles_mm": scene.dress.soles_mm,
        "crotch_ring_mm": _rounded(crotch_ring_mm(body), 2),
        "erect_joint_heights_mm": {name: round(value, 2) for name, value in erect.items()},
        "legwear": scene.dress.legwear,
        "crotch_drop_mm": None if hidden else round(crotch_drop_mm, 1),
        "cover_below_crotch_mm": round(scene.dress.cover_below_crotch_mm, 1) if hidden else None,
        "footwear": scene.dress.footwear,
        "stance": {name: round(value, 3) for name, value in asdict(scene.stance).items()},
        "heel_gap_mm": round(heel_gap_mm(posed, scene.dress), 2),
        "light": scene.place.light,
        "outdoors": scene.place.outdoors,
        "treatment": scene.film.treatment,
        "exif_focal_35mm": scene.film.exif_focal_35mm,
        "width_px": window.final_width_px,
        "height_px": window.final_height_px,
        "camera": {
            "focal_px": round(camera.focal_px * float(scale[0]), 4),
            "focal_y_px": round(camera.focal_px * float(scale[1]), 4),
            "centre_px": _rounded(centre, 3),
            "k1": round(camera.k1, 6),
            "position_mm": _rounded(np.array(camera.position_mm), 2),
            "rotation": _rounded(camera.rotation, 8),
            "yaw_rad": round(camera.yaw_rad, 6),
            "pitch_rad": round(camera.pitch_rad, 6),
            "roll_rad": round(camera.roll_rad, 6),
            "true_focal_35mm": round(scene.view.focal_35mm, 3),
        },
        "reference": _reference_truth(mounted)
        | {"points_px": {name: pixels(p) for name, p in mounted.points_mm.items()}},
        "landmarks_mm": {name: _rounded(p, 2) for name, p in landmarks.points_mm.items()},
        "landmarks_px": {name: pixels(p)[0] for name, p in landmarks.points_mm.items()},
        "floor_y_mm": 0.0,
        "scene": asdict(drawn),
    }


def write_truth(truth: dict[str, Any], path: Path) -> None:
    """Writes the JSON whole or not at all."""
    part = path.with_suffix(".json.part")
    part.write_text(json.dumps(truth, indent=1), encoding="utf-8")
    part.replace(path)


def read_truths(folder: Path) -> list[dict[str, Any]]:
    """The truths of all finished photos of a folder, by seed, index and photo."""
    truths: list[dict[str, Any]] = []
    for path in sorted(folder.glob("*.json")):
        truth = json.loads(path.read_text(encoding="utf-8"))
        if "inseam_mm" in truth and (folder / truth["photo"]).exists():
            truths.append(truth)
    return sorted(truths, key=lambda t: (t["seed"], t["index"], t["photo_of_child"]))


def _reference_truth(mounted: Mounted) -> dict[str, Any]:
    reference = mounted.reference
    truth: dict[str, Any] = {
        "plane": plane_of(reference),
        "origin_mm": _rounded(mounted.origin_mm, 2),
        "points_mm": {name: _rounded(p, 2) for name, p in mounted.points_mm.items()},
    }
    if isinstance(reference, Paper):
        return truth | {
            "kind": reference.kind,
            "paper": reference.paper,
            "width_mm": round(reference.width_mm, 3),
            "height_mm": round(reference.height_mm, 3),
            "print_scale": round(reference.print_scale, 6),
            "ruler_mm": reference.ruler_mm,
        }
    if isinstance(reference, Door):
        return truth | {
            "kind": "door",
            "width_mm": round(reference.width_mm, 2),
            "height_mm": reference.height_mm,
            "recess_mm": round(reference.recess_mm, 2),
            "child_in_front": reference.child_in_front,
        }
    if isinstance(reference, Wheel):
        return truth | {
            "kind": "wheel",
            "code": reference.code,
            "nominal_diameter_mm": reference.nominal_diameter_mm,
            "true_diameter_mm": round(reference.true_diameter_mm, 2),
            "depth_offset_mm": round(reference.depth_offset_mm, 2),
        }
    assert isinstance(reference, Bar)
    return truth | {
        "kind": "length",
        "length_mm": reference.length_mm,
        "depth_offset_mm": round(reference.depth_offset_mm, 2),
    }


def _rounded(values: NDArray[np.float64], digits: int) -> list[Any]:
    rounded: list[Any] = np.round(np.asarray(values, float), digits).tolist()
    return rounded
