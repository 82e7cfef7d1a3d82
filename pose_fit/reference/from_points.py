"""References given by points that somebody clicked or typed."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.errors import ReferenceObjectError
from pose_fit.photo.click_error import click_sd_px
from pose_fit.photo.photo import Photo
from pose_fit.reference.paper import PAPER_SD_MM, PAPER_SIZE_MM, Paper
from pose_fit.reference.reference import CircleReference, Placement, PointReference
from pose_fit.reference.seen_rectangle import seen_rectangles

__all__ = [
    "DOOR_HEIGHTS_MM",
    "DOOR_HEIGHT_MM",
    "DoorHeight",
    "check_points",
    "door_reference",
    "length_reference",
    "paper_reference",
    "rectangle_mm",
    "wheel_reference",
]


@dataclass(frozen=True, slots=True)
class DoorHeight:
    """A usual height of a door's leaf, and how many of the doors are so high (judgement)."""

    height_mm: float
    share: float


#: 78, 80 and 84 in, and 2040 mm; 80 in is the commonest where nobody measured.
DOOR_HEIGHTS_MM: Final = (
    DoorHeight(2032.0, 0.60),
    DoorHeight(1981.0, 0.20),
    DoorHeight(2040.0, 0.15),
    DoorHeight(2134.0, 0.05),
)
DOOR_HEIGHT_MM: Final = DOOR_HEIGHTS_MM[0].height_mm
#: A leaf is hung and cut to a few millimetres of its height.
DOOR_LOG_SIZE_SD: Final = 0.002
#: Interior door leaves are 610 to 915 mm wide (common sizes, secondary): the width is left open.
DOOR_WIDTH_MM: Final = 762.0
DOOR_LOG_ASPECT_SD: Final = 0.12
#: As cut, on the short side; a sheet on a wall is a little wavy besides, so that its shape is as
#: unsure.
PAPER_LOG_SIZE_SD: Final = PAPER_SD_MM / PAPER_SIZE_MM["a4"][0]
PAPER_LOG_ASPECT_SD: Final = 0.003
#: A tape along the object, read to a few millimetres.
LENGTH_LOG_SIZE_SD: Final = 0.004
#: Points that spread less than this part across their longest way lie on one line: an object seen
#: at 80 degrees, or an arc of a twelfth of a wheel, from which nothing is measured.
ON_ONE_LINE: Final = 0.1
#: How near a paper's corner is found by the program, working pixels: 0.2 on rendered photos,
#: where paper is flat and lenses are clean.
FOUND_SD_WORKING_PX: Final = 0.4
#: The same of points on a tyre's edge, which err together because one ellipse gives them all.
FOUND_TYRE_SD_WORKING_PX: Final = 0.8


def check_points(
    photo: Photo, points_px: NDArray[np.float64], *, kind: str, least: int, most: int | None = None
) -> None:
    """Raise where points are too few, too many, outside the picture or on top of each other.

    Raises
    ------
    ReferenceObjectError
        Says what was wanted for this kind of reference and what was found.
    """
    wanted = f"{least} points" if most == least else f"{least} or more points"
    if points_px.ndim != 2 or points_px.shape[1] != 2:
        raise ReferenceObjectError(
            f"{kind}: wanted {wanted} of x and y, found an array of shape {points_px.shape}",
            about="points",
        )
    if len(points_px) < least or (most is not None and len(points_px) > most):
        raise ReferenceObjectError(
            f"{kind}: wanted {wanted}, found {len(points_px)}", about="points"
        )
    limits = np.array([photo.width_px, photo.height_px])
    outside = ~((points_px >= -1) & (points_px <= limits)).all(axis=1)
    if outside.any():
        x_px, y_px = points_px[outside][0]
        raise ReferenceObjectError(
            f"{kind}: wanted points inside the upright picture of {photo.width_px} x"
            f" {photo.height_px} pixels, found {x_px:g},{y_px:g}",
            about="points",
        )
    gaps = np.linalg.norm(points_px[:, None] - points_px[None], axis=2)
    if gaps[np.triu_indices(len(points_px), 1)].min() < 3:
        raise ReferenceObjectError(
            f"{kind}: wanted points apart from each other, found two in one place",
            about="points",
        )
    if least > 2:
        spreads_px = np.linalg.svd(points_px - points_px.mean(axis=0), compute_uv=False)
        if spreads_px[1] < ON_ONE_LINE * spreads_px[0]:
            raise ReferenceObjectError(
                f"{kind}: wanted points round the object, found them all on one line",
                about="points",
            )


def _check_quad(points_px: NDArray[np.float64], kind: str) -> None:
    """Four corners must go clockwise round a convex shape (y runs down), top left first."""
    edges = np.roll(points_px, -1, axis=0) - points_px
    following = np.roll(edges, -1, axis=0)
    turns = edges[:, 0] * following[:, 1] - edges[:, 1] * following[:, 0]
    if not (turns > 0).all() or points_px.sum(axis=1).argmin() != 0:
        raise ReferenceObjectError(
            f"{kind}: wanted four corners clockwise from top left, found them in another order",
            about="points",
        )


def paper_reference(
    photo: Photo,
    corners_px: NDArray[np.float64],
    *,
    paper: Paper,
    placement: Placement,
    found: bool,
) -> PointReference:
    """A Letter or A4 sheet, upright or on its side, by its corners clockwise from top left."""
    if not found:
        check_points(photo, corners_px, kind=paper, least=4, most=4)
        _check_quad(corners_px, paper)
    short_mm, long_mm = PAPER_SIZE_MM[paper]
    # Seen from high above an upright sheet looks wider than tall.
    shapes = seen_rectangles(photo, corners_px)
    tall, wide = (
        min(shape.misfit(aspect) for shape in shapes)
        for aspect in (long_mm / short_mm, short_mm / long_mm)
    )
    size_mm = (short_mm, long_mm) if tall < wide else (long_mm, short_mm)
    return PointReference(
        kind=paper,
        placement=placement,
        object_mm=rectangle_mm(*size_mm),
        image_px=corners_px,
        point_sd_px=FOUND_SD_WORKING_PX * photo.working_scale if found else click_sd_px(photo),
        log_size_sd=PAPER_LOG_SIZE_SD,
        log_aspect_sd=PAPER_LOG_ASPECT_SD,
    )


def door_reference(
    photo: Photo, corners_px: NDArray[np.float64], *, height_mm: float | None, placement: Placement
) -> PointReference:
    """A door by the corners of its leaf clockwise from top left; its width is left open."""
    check_points(photo, corners_px, kind="door", least=4, most=4)
    _check_quad(corners_px, "door")
    return PointReference(
        kind="door",
        placement=placement,
        object_mm=rectangle_mm(DOOR_WIDTH_MM, height_mm or DOOR_HEIGHT_MM),
        image_px=corners_px,
        point_sd_px=click_sd_px(photo),
        log_size_sd=DOOR_LOG_SIZE_SD,
        log_aspect_sd=DOOR_LOG_ASPECT_SD,
    )


def length_reference(
    photo: Photo, ends_px: NDArray[np.float64], *, length_mm: float, placement: Placement
) -> PointReference:
    """Any object of known length by its two ends."""
    check_points(photo, ends_px, kind="length", least=2, most=2)
    half_mm = length_mm / 2
    across, down = ends_px[1] - ends_px[0]
    axis = (
        np.array([0.0, 1.0]) * np.sign(down)
        if abs(down) > abs(across)
        else np.array([np.sign(across), 0.0])
    )
    return PointReference(
        kind="length",
        placement=placement,
        object_mm=np.stack([-half_mm * axis, half_mm * axis]),
        image_px=ends_px,
        point_sd_px=click_sd_px(photo),
        log_size_sd=LENGTH_LOG_SIZE_SD,
        log_aspect_sd=PAPER_LOG_ASPECT_SD,
    )


def wheel_reference(
    photo: Photo,
    tyre_px: NDArray[np.float64],
    *,
    diameter_mm: float,
    width_mm: float,
    diameter_sd_mm: float,
    placement: Placement,
    found: bool,
) -> CircleReference:
    """A wheel by points on its tyre's outer edge as seen; five or more."""
    if not found:
        check_points(photo, tyre_px, kind="wheel", least=5)
    return CircleReference(
        kind="wheel",
        placement=placement,
        radius_mm=diameter_mm / 2,
        width_mm=width_mm,
        image_px=tyre_px,
        point_sd_px=FOUND_TYRE_SD_WORKING_PX * photo.working_scale if found else click_sd_px(photo),
        log_size_sd=diameter_sd_mm / diameter_mm,
    )


def rectangle_mm(width_mm: float, height_mm: float) -> NDArray[np.float64]:
    """(4, 2) corners clockwise from top left, origin at the centre."""
    half = np.array([width_mm, height_mm]) / 2
    corners_mm: NDArray[np.float64] = half * np.array(
        [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
    )
    return corners_mm
