"""Solid things beside a child in a rendered picture: boxes, tubes, balls and rings.

In the wall frame: millimetres, x to the right along the wall, y down, z into the wall.
"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.scenes.dress import Piece
from calibration.scenes.scene import Rgb

__all__ = ["ball", "box", "path", "ring", "tube"]

_Points = NDArray[np.float64]


def box(
    name: str, low_mm: ArrayLike, high_mm: ArrayLike, rgb: Rgb, surface: str = "thing"
) -> Piece:
    """An upright box between two opposite corners."""
    low, high = np.asarray(low_mm, float), np.asarray(high_mm, float)
    corners = np.array(
        [
            [x, y, z]
            for y in (low[1], high[1])
            for x, z in ((low[0], low[2]), (high[0], low[2]), (high[0], high[2]), (low[0], high[2]))
        ]
    )
    faces = [[0, 1, 2, 3], [7, 6, 5, 4]]
    faces += [[i, (i + 1) % 4, (i + 1) % 4 + 4, i + 4] for i in range(4)]
    return _piece(name, corners, faces, rgb, surface)


def tube(
    name: str,
    start_mm: ArrayLike,
    end_mm: ArrayLike,
    radius_mm: float,
    rgb: Rgb,
    surface: str = "plain",
) -> Piece:
    """A round stick between two points."""
    return path(name, [start_mm, end_mm], radius_mm, rgb, surface)


def path(
    name: str,
    middles_mm: Iterable[ArrayLike],
    radius_mm: float,
    rgb: Rgb,
    surface: str = "plain",
    *,
    closed: bool = False,
) -> Piece:
    """A round tube along a line of points."""
    middles = np.array([np.asarray(one, float) for one in middles_mm])
    ahead = np.roll(middles, -1, axis=0) - middles
    if not closed:
        ahead[-1] = ahead[-2]
    points = np.concatenate([_circle(m, a, radius_mm) for m, a in zip(middles, ahead, strict=True)])
    count = len(middles)
    faces = [
        [16 * i + k, 16 * i + (k + 1) % 16, 16 * j + (k + 1) % 16, 16 * j + k]
        for i in range(count if closed else count - 1)
        for j in [(i + 1) % count]
        for k in range(16)
    ]
    if not closed:
        faces += [list(range(15, -1, -1)), list(range(16 * count - 16, 16 * count))]
    return _piece(name, points, faces, rgb, surface)


def ring(
    name: str, middle_mm: ArrayLike, axis: ArrayLike, radii_mm: tuple[float, float], rgb: Rgb
) -> Piece:
    """A ring round an axis, of this radius and half this thick: a tyre."""
    radius_mm, tube_mm = radii_mm
    around = _circle(np.asarray(middle_mm, float), np.asarray(axis, float), radius_mm, count=48)
    return path(name, around, tube_mm, rgb, closed=True)


def ball(
    name: str, middle_mm: ArrayLike, radii_mm: ArrayLike, rgb: Rgb, surface: str = "plain"
) -> Piece:
    """A ball, or an egg where the three radii differ."""
    rows, around = 14, 24
    polar = np.linspace(0, np.pi, rows + 1)
    angle = np.linspace(0, 2 * np.pi, around, endpoint=False)
    unit = np.array(
        [[np.sin(p) * np.cos(a), -np.cos(p), np.sin(p) * np.sin(a)] for p in polar for a in angle]
    )
    faces = [
        [around * i + k, around * i + (k + 1) % around, j + (k + 1) % around, j + k]
        for i in range(rows)
        for j in [around * (i + 1)]
        for k in range(around)
    ]
    points = np.asarray(middle_mm, float) + unit * np.asarray(radii_mm, float)
    return _piece(name, points, faces, rgb, surface)


def _circle(middle_mm: _Points, axis: _Points, radius_mm: float, *, count: int = 16) -> _Points:
    along = axis / np.linalg.norm(axis)
    other = np.array([0.0, 0, 1]) if abs(along[2]) < 0.9 else np.array([1.0, 0, 0])
    first = np.cross(along, other)
    first /= np.linalg.norm(first)
    second = np.cross(along, first)
    angles = np.linspace(0, 2 * np.pi, count, endpoint=False)[:, None]
    circle: _Points = middle_mm + radius_mm * (np.cos(angles) * first + np.sin(angles) * second)
    return circle


def _piece(name: str, points_mm: _Points, faces: list[list[int]], rgb: Rgb, surface: str) -> Piece:
    count = len(points_mm)
    colours = np.tile(rgb, (count, 1))
    return Piece(name, points_mm, faces, np.zeros(count, np.int64), colours, surface)
