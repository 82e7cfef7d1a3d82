"""Posing and references on a stick body, whose right answers are known without the body model."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from calibration.scenes.body import SKIN_VERTICES, Body, Parts
from calibration.scenes.draw import draw_scene
from calibration.scenes.posing import (
    Posed,
    erect_joints_mm,
    erect_stance,
    heel_gap_mm,
    inseam_mm,
    pose,
    pose_at_wall,
)
from calibration.scenes.references import mount
from calibration.scenes.scene import Bar, Door, Paper, Stance, Wheel

# Bone: (parent, joint at rest) with x to the left, y down, z to the back. Legs stand wide,
# knees are bent forward, as the body model's are.
BONES: dict[str, tuple[int, tuple[float, float, float]]] = {
    "root": (-1, (0, 0, 0)),
    "upperleg01.L": (0, (90, 20, 0)),
    "lowerleg01.L": (1, (110, 340, -40)),
    "foot.L": (2, (160, 680, 5)),
    "upperleg01.R": (0, (-90, 20, 0)),
    "lowerleg01.R": (4, (-110, 340, -40)),
    "foot.R": (5, (-160, 680, 5)),
    "upperarm01.L": (0, (150, -350, 0)),
    "lowerarm01.L": (7, (290, -180, 0)),
    "upperarm01.R": (0, (-150, -350, 0)),
    "lowerarm01.R": (9, (-290, -180, 0)),
    "neck02": (0, (0, -420, 0)),
}
CROTCH = (0.0, 100.0, -30.0)
#: Point on the skin: (bone it hangs on, where).
POINTS: list[tuple[str, tuple[float, float, float]]] = [
    ("foot.L", (160, 740, 50)),
    ("foot.L", (160, 740, -110)),
    ("foot.R", (-160, 740, 50)),
    ("foot.R", (-160, 740, -110)),
    ("root", (0, 10, 95)),
    ("neck02", (0, -640, 0)),
]


def stick_body() -> Body:
    names = tuple(BONES)
    vertices = np.tile(np.array(CROTCH), (SKIN_VERTICES, 1))
    weights = np.zeros((SKIN_VERTICES, len(names)))
    weights[:, 0] = 1.0
    for row, (bone, point) in enumerate(POINTS):
        vertices[row] = point
        weights[row] = 0.0
        weights[row, names.index(bone)] = 1.0
    parts = Parts(
        faces={},
        bone_names=names,
        bone_parents=tuple(parent for parent, _ in BONES.values()),
        weights=weights,
    )
    joints = np.array([joint for _, joint in BONES.values()], float)
    return Body(vertices_mm=vertices, joints_mm=joints, parts=parts)


def flexion_rad(posed: Posed, mark: str) -> float:
    hip, knee, ankle = (posed.joint_mm(f"{b}.{mark}") for b in ("upperleg01", "lowerleg01", "foot"))
    thigh, shank = knee - hip, ankle - knee
    return float(
        np.arctan2(shank[2], np.hypot(shank[0], shank[1]))
        - np.arctan2(thigh[2], np.hypot(thigh[0], thigh[1]))
    )


def stance(**changes: float) -> Stance:
    return replace(erect_stance(1380.0), **changes)


@pytest.mark.parametrize("separation_mm", [60.0, 120.0, 330.0])
def test_ankles_stand_as_far_apart_as_asked(separation_mm: float) -> None:
    posed = pose(stick_body(), stance=stance(ankle_separation_mm=separation_mm), soles_mm=0)
    apart = posed.joint_mm("foot.L") - posed.joint_mm("foot.R")
    np.testing.assert_allclose(apart, [separation_mm, 0, 0], atol=1e-6)


@pytest.mark.parametrize("bend_deg", [0.0, 5.0, 15.0])
def test_knees_bend_as_asked_and_ankles_stay_under_the_hips(bend_deg: float) -> None:
    body = stick_body()
    # At the thighs' own separation the legs hang straight, so the bend shows undistorted.
    posed = pose(body, stance=stance(knee_bend_deg=bend_deg, ankle_separation_mm=180), soles_mm=0)
    for mark in ("L", "R"):
        assert np.rad2deg(flexion_rad(posed, mark)) == pytest.approx(bend_deg, abs=0.2)
        offset = posed.joint_mm(f"foot.{mark}") - posed.joint_mm(f"upperleg01.{mark}")
        assert abs(offset[2]) < 3


def test_bones_keep_their_lengths() -> None:
    body = stick_body()
    posed = pose(body, stance=stance(knee_bend_deg=12, turn_deg=15, toe_out_deg=9), soles_mm=10)
    for bone, (parent, _) in enumerate(BONES.values()):
        if parent >= 0:
            rest = np.linalg.norm(body.joints_mm[bone] - body.joints_mm[parent])
            now = np.linalg.norm(posed.joints_mm[bone] - posed.joints_mm[parent])
            assert now == pytest.approx(rest)


def test_soles_stand_on_the_floor_and_heels_before_the_wall() -> None:
    posed = pose(stick_body(), stance=stance(heel_gap_mm=35, turn_deg=10), soles_mm=22)
    feet = posed.vertices_mm[:4]
    np.testing.assert_allclose(feet[:, 1], -22, atol=1e-9)
    assert feet[:, 2].max() == pytest.approx(-35)


def test_inseam_is_the_straight_leg_height_of_the_crotch() -> None:
    body = stick_body()
    # By hand: the leg is swung about the hip until its ankle is at +-69 mm (a tenth of the
    # 1380 mm stature, halved), straightened in the side view; the pelvis does not move.
    thigh, shank = np.hypot(320, 40), np.hypot(340, 45)
    across = 70.0
    down = np.sqrt(thigh**2 + shank**2 + 2 * thigh * shank + across**2 - (90 - 69) ** 2)
    expected = (20 + down + 60) - 100
    assert inseam_mm(body) == pytest.approx(expected, abs=0.05)
    assert inseam_mm(body) > (740 - 100)  # the wide, bent rest pose reads short
    joints = erect_joints_mm(body)
    assert joints["ankle"] == pytest.approx(60)
    assert joints["hip"] == pytest.approx(down + 60, abs=0.05)


def test_at_the_wall_nothing_goes_through_it_and_hips_come_forward() -> None:
    body = stick_body()
    dress = replace(
        draw_scene(seed=1, index=0, width_px=90, height_px=120).dress,
        footwear="bare",
        soles_mm=0.0,
    )
    close = stance(heel_gap_mm=2, ankle_separation_mm=150)
    posed = pose_at_wall(body, stance=close, dress=dress)
    assert posed.vertices_mm[:, 2].max() <= 1e-6
    assert posed.joint_mm("upperleg01.L")[2] < posed.joint_mm("foot.L")[2] - 30
    assert 2 <= heel_gap_mm(posed, dress) < 30
    far = pose_at_wall(body, stance=replace(close, heel_gap_mm=80), dress=dress)
    assert heel_gap_mm(far, dress) == pytest.approx(80)


def mounted_index(kind: type, start: int = 0) -> int:
    return next(
        index
        for index in range(start, start + 80)
        if isinstance(draw_scene(seed=6, index=index, width_px=900, height_px=1200).reference, kind)
    )


def child_and_joints() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    rng = np.random.default_rng(3)
    child_mm = rng.uniform([-200, -1200, -200], [200, 0, -5], (4000, 3))
    joints_mm = np.array([[x, y, -80.0] for x in (-70, 70) for y in (-620, -330, -60)], float)
    return child_mm, joints_mm


@pytest.mark.parametrize("kind", [Paper, Door, Wheel, Bar])
@pytest.mark.parametrize("start", [0, 80, 160])
def test_nothing_of_the_child_hides_a_reference_point(kind: type, start: int) -> None:
    scene = draw_scene(seed=6, index=mounted_index(kind, start), width_px=900, height_px=1200)
    child_mm, joints_mm = child_and_joints()
    eye_mm = np.array([120.0, -1100.0, -1700.0])
    mounted = mount(scene, child_mm=child_mm, joints_mm=joints_mm, stature_mm=1200.0, eye_mm=eye_mm)
    if isinstance(mounted.reference, Door) and mounted.reference.child_in_front:
        pytest.skip("the child stands before the leaf, between its corners")
    for points_mm in mounted.points_mm.values():
        for point in points_mm:
            share = (child_mm[:, 2] - eye_mm[2]) / (point[2] - eye_mm[2])
            sight = eye_mm + share[:, None] * (point - eye_mm)
            near = np.hypot(*(child_mm - sight)[:, :2].T).min()
            assert near > 5


def test_mounted_sizes_are_true() -> None:
    child_mm, joints_mm = child_and_joints()
    eye_mm = np.array([0.0, -1000.0, -1800.0])

    def mounted(kind: type) -> tuple[object, dict[str, NDArray[np.float64]]]:
        scene = draw_scene(seed=6, index=mounted_index(kind), width_px=900, height_px=1200)
        found = mount(
            scene, child_mm=child_mm, joints_mm=joints_mm, stature_mm=1200.0, eye_mm=eye_mm
        )
        return found.reference, found.points_mm

    sheet, points = mounted(Paper)
    assert isinstance(sheet, Paper)
    assert sheet.kind == "sheet"
    side = np.linalg.norm(points["marker_31"][1] - points["marker_31"][0])
    assert side == pytest.approx(88.0 * sheet.print_scale)
    apart = np.linalg.norm(points["marker_34"][2] - points["marker_31"][0])
    assert apart == pytest.approx(np.hypot(190, 256) * sheet.print_scale)

    door, points = mounted(Door)
    assert isinstance(door, Door)
    corners = points["corners"]
    assert corners[3, 1] - corners[0, 1] == pytest.approx(door.height_mm)
    assert corners[1, 0] - corners[0, 0] == pytest.approx(door.width_mm)

    wheel, points = mounted(Wheel)
    assert isinstance(wheel, Wheel)
    edge = points["edge"]
    across = np.linalg.norm(edge[:6] - edge[6:], axis=1)
    np.testing.assert_allclose(across, wheel.true_diameter_mm)
    assert edge[:, 1].max() == pytest.approx(0, abs=wheel.true_diameter_mm * 0.04)
    assert abs(edge[:, 2].mean() - (-80 + wheel.depth_offset_mm)) < 60

    bar, points = mounted(Bar)
    assert isinstance(bar, Bar)
    assert np.linalg.norm(points["ends"][1] - points["ends"][0]) == pytest.approx(bar.length_mm)
    assert points["ends"][0, 1] < points["ends"][1, 1] <= 0
