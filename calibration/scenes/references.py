"""Where the reference object stands, and the points of it that a user or detector marks."""

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.scene import Bar, Door, Paper, Reference, Scene, Wheel
from pose_fit.reference.printed_sheet import marker_corners_mm

__all__ = ["WHEEL_POINTS", "Book", "Mounted", "mount", "plane_of"]

#: How many points of a wheel's outer edge the truth holds.
WHEEL_POINTS: Final = 12


@dataclass(frozen=True, eq=False, slots=True)
class Mounted:
    """A reference in the wall frame.

    A local point (x right, y down, z away from the camera) lies at
    ``origin_mm + axes @ point``. ``points_mm`` holds the named point sets, each (N, 3).
    """

    reference: Reference
    origin_mm: NDArray[np.float64]
    axes: NDArray[np.float64]
    points_mm: dict[str, NDArray[np.float64]]

    def place(self, local_mm: NDArray[np.float64]) -> NDArray[np.float64]:
        """Local points (N, 3) in the wall frame."""
        placed: NDArray[np.float64] = self.origin_mm + np.atleast_2d(local_mm) @ self.axes.T
        return placed


@dataclass(frozen=True, eq=False, slots=True)
class Book:
    """A hardback pushed up between the legs, its spine up and level, an end to the camera.

    A local point (x right, y down, z away from the camera) of the label, whose top edge is the
    spine's level, lies at ``origin_mm + axes @ point``; the origin is the middle of that edge.
    ``label`` is the printed picture, (H, W) or (H, W, 3) uint8.
    """

    origin_mm: NDArray[np.float64]
    axes: NDArray[np.float64]
    thickness_mm: float
    height_mm: float
    depth_mm: float
    label_width_mm: float
    label_height_mm: float
    label: NDArray[np.uint8]
    rgb: tuple[float, float, float]

    def place(self, local_mm: NDArray[np.float64]) -> NDArray[np.float64]:
        """Local points (N, 3) in the wall frame."""
        placed: NDArray[np.float64] = self.origin_mm + np.atleast_2d(local_mm) @ self.axes.T
        return placed

    @property
    def label_corners_mm(self) -> NDArray[np.float64]:
        """The label's corners in the wall frame, clockwise from top left, (4, 3)."""
        half, low = self.label_width_mm / 2, self.label_height_mm
        return self.place(np.array([[-half, 0, 0], [half, 0, 0], [half, low, 0], [-half, low, 0]]))


def plane_of(reference: Reference) -> Literal["wall", "beside"]:
    """Whether the reference is in the wall's plane or in the child's own."""
    if isinstance(reference, Wheel):
        return "beside"
    return reference.plane if isinstance(reference, Bar) else "wall"


def mount(
    scene: Scene,
    *,
    child_mm: NDArray[np.float64],
    joints_mm: NDArray[np.float64],
    stature_mm: float,
    eye_mm: NDArray[np.float64],
) -> Mounted:
    """Stands or hangs the scene's reference beside the child.

    Parameters
    ----------
    child_mm
        All points of the dressed child, (N, 3).
    joints_mm
        Hip, knee and ankle centres of both legs, (6, 3).
    eye_mm
        Where the camera is wished to be, (3,); nothing of the child may hide the
        reference from there.
    """
    reference = scene.reference
    if isinstance(reference, Paper):
        return _hang(reference, scene, child_mm, stature_mm, eye_mm)
    if isinstance(reference, Door):
        return _set_door(reference, child_mm, eye_mm)
    depth_mm = float(joints_mm[:, 2].mean())
    if isinstance(reference, Wheel):
        return _stand_wheel(reference, child_mm, eye_mm, depth_mm)
    return _stand_bar(reference, scene, child_mm, eye_mm, depth_mm)


def _beside_mm(
    child_mm: NDArray[np.float64],
    *,
    side: int,
    gap_mm: float,
    low_y_mm: float,
    high_y_mm: float,
    depth_mm: float,
    eye_mm: NDArray[np.float64],
) -> float:
    """The x where an object at a depth may begin, between two heights, beside the child.

    ``gap_mm`` beyond the child itself, and beyond what the child hides from the camera.
    """
    along = (depth_mm - eye_mm[2]) / (child_mm[:, 2] - eye_mm[2])
    shadow = eye_mm + (child_mm - eye_mm) * along[:, None]
    level = (shadow[:, 1] > low_y_mm - 60) & (shadow[:, 1] < high_y_mm + 60)
    hidden = shadow[level, 0] if level.any() else shadow[:, 0]
    # The legs alone set the gap; arms and sleeves may reach over it but not hide it.
    legs = child_mm[child_mm[:, 1] > 0.4 * child_mm[:, 1].min()]
    edge = max(float((side * legs[:, 0]).max()) + gap_mm, float((side * hidden).max()) + 20)
    return side * edge


def _hang(
    paper: Paper,
    scene: Scene,
    child_mm: NDArray[np.float64],
    stature_mm: float,
    eye_mm: NDArray[np.float64],
) -> Mounted:
    lowest = scene.place.skirting_height_mm + 15 + 0.52 * paper.height_mm
    middle_y = -max(paper.middle_height_fraction * stature_mm, lowest)
    reach = paper.width_mm / 2 + 10
    edge = _beside_mm(
        child_mm,
        side=paper.side,
        gap_mm=paper.gap_mm,
        low_y_mm=middle_y - paper.height_mm / 2,
        high_y_mm=middle_y + paper.height_mm / 2,
        depth_mm=0.0,
        eye_mm=eye_mm,
    )
    roll = radians(paper.roll_deg)
    axes = np.array([[cos(roll), -sin(roll), 0], [sin(roll), cos(roll), 0], [0, 0, 1]])
    origin = np.array([edge + paper.side * reach, middle_y, -0.5])
    half = np.array([paper.width_mm, paper.height_mm]) / 2
    mounted = Mounted(reference=paper, origin_mm=origin, axes=axes, points_mm={})
    points = {"corners": mounted.place(_flat(_square() * half))}
    if paper.kind == "sheet":
        for marker, corners_mm in marker_corners_mm().items():
            points[f"marker_{marker}"] = mounted.place(_flat(corners_mm * paper.print_scale))
    return Mounted(reference=paper, origin_mm=origin, axes=axes, points_mm=points)


def _set_door(door: Door, child_mm: NDArray[np.float64], eye_mm: NDArray[np.float64]) -> Mounted:
    """The leaf's front face; beside the child, or behind, showing all four corners."""
    if door.child_in_front:
        middle_x = float(np.median(child_mm[:, 0])) + (0.5 - door.child_at) * door.width_mm
    else:
        edge = _beside_mm(
            child_mm,
            side=door.side,
            gap_mm=door.gap_mm,
            low_y_mm=-door.height_mm,
            high_y_mm=0.0,
            depth_mm=door.recess_mm,
            eye_mm=eye_mm,
        )
        middle_x = edge + door.side * door.width_mm / 2
    origin = np.array([middle_x, -door.floor_gap_mm - door.height_mm / 2, door.recess_mm])
    half = np.array([door.width_mm, door.height_mm]) / 2
    return Mounted(
        reference=door,
        origin_mm=origin,
        axes=np.eye(3),
        points_mm={"corners": origin + _flat(_square() * half)},
    )


def _stand_wheel(
    wheel: Wheel, child_mm: NDArray[np.float64], eye_mm: NDArray[np.float64], depth_mm: float
) -> Mounted:
    radius = wheel.true_diameter_mm / 2
    behind = -wheel.width_mm / 2 - 15 - radius * abs(sin(radians(wheel.yaw_deg)))
    behind -= 2 * radius * abs(sin(radians(wheel.lean_deg)))
    depth = min(depth_mm + wheel.depth_offset_mm, behind)
    edge = _beside_mm(
        child_mm,
        side=wheel.side,
        gap_mm=wheel.gap_mm,
        low_y_mm=-2 * radius,
        high_y_mm=0.0,
        depth_mm=depth,
        eye_mm=eye_mm,
    )
    yaw, lean = radians(wheel.yaw_deg), radians(wheel.lean_deg)
    turn = np.array([[cos(yaw), 0, sin(yaw)], [0, 1, 0], [-sin(yaw), 0, cos(yaw)]])
    tip = np.array([[1, 0, 0], [0, cos(lean), -sin(lean)], [0, sin(lean), cos(lean)]])
    axes = turn @ tip
    origin = np.array([edge + wheel.side * radius, -radius * cos(lean), depth])
    angles = 2 * np.pi * np.arange(WHEEL_POINTS) / WHEEL_POINTS
    rim = radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    mounted = Mounted(reference=wheel, origin_mm=origin, axes=axes, points_mm={})
    return Mounted(
        reference=wheel,
        origin_mm=origin,
        axes=axes,
        points_mm={"edge": mounted.place(_flat(rim))},
    )


def _stand_bar(
    bar: Bar,
    scene: Scene,
    child_mm: NDArray[np.float64],
    eye_mm: NDArray[np.float64],
    depth_mm: float,
) -> Mounted:
    depth = -scene.place.skirting_depth_mm - bar.radius_mm - 2
    if bar.plane == "beside":
        tilt = bar.length_mm / 2 * abs(sin(radians(bar.pitch_deg)))
        depth = min(depth_mm + bar.depth_offset_mm, depth - tilt)
    edge = _beside_mm(
        child_mm,
        side=bar.side,
        gap_mm=bar.gap_mm,
        low_y_mm=-bar.length_mm - bar.foot_height_mm,
        high_y_mm=0.0,
        depth_mm=depth,
        eye_mm=eye_mm,
    )
    roll, pitch = radians(bar.roll_deg), radians(bar.pitch_deg)
    lean = np.array([[cos(roll), -sin(roll), 0], [sin(roll), cos(roll), 0], [0, 0, 1]])
    tip = np.array([[1, 0, 0], [0, cos(pitch), -sin(pitch)], [0, sin(pitch), cos(pitch)]])
    axes = lean @ tip
    half = np.array([0, bar.length_mm / 2, 0])
    sway = bar.length_mm / 2 * abs(sin(roll)) + bar.radius_mm
    reach = axes @ half
    origin = np.array(
        [edge + bar.side * sway, -bar.foot_height_mm - bar.radius_mm - abs(reach[1]), depth]
    )
    return Mounted(
        reference=bar,
        origin_mm=origin,
        axes=axes,
        points_mm={"ends": np.stack([origin - reach, origin + reach])},
    )


def _square() -> NDArray[np.float64]:
    """Corners of a square of side 2, clockwise from top left, (4, 2)."""
    return np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])


def _flat(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """(N, 2) points in the plane z = 0, (N, 3)."""
    return np.column_stack([points, np.zeros(len(points))])
