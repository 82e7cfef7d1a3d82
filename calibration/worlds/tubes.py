"""Cloth as tubes around the standing body: trousers, skirts and straight-hanging tops.

A section is the convex outline of what lies at one height; cloth spans hollows and falls
straight from what sticks out. Trousers are one mesh as a tailor cuts them: a tube around the
pelvis, a crotch seam from front to back, and a tube around each leg. All of it is in the
child's own frame (turned with the child): millimetres, x to the left, y down, z to the back.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "AROUND",
    "Cloth",
    "Girths",
    "Wave",
    "girths_of",
    "hung",
    "trousers",
    "tube",
    "unit_normals",
]

#: Folds, millimetres off the body: of (N,) heights and (N,) angles about it.
Wave = Callable[[NDArray[np.float64], NDArray[np.float64]], NDArray[np.float64]]

#: Points around a tube. Number 0 is in front, then to the child's left.
AROUND: Final = 48
_ANGLES: Final = 2 * np.pi * np.arange(AROUND) / AROUND
_BAND_MM: Final = 9.0
#: Folds of the second leg are looked up this far away, so that the legs differ.
_OTHER_LEG_MM: Final = 5000.0


@dataclass(frozen=True, eq=False, slots=True)
class Girths:
    """Outlines at heights: (L,) y, (L, 2) centres (x, z), (L, AROUND) radii."""

    y_mm: NDArray[np.float64]
    centres_mm: NDArray[np.float64]
    radii_mm: NDArray[np.float64]

    def centre_at(self, y_mm: NDArray[np.float64]) -> NDArray[np.float64]:
        """Centres at any heights, (N, 2); beyond the ends the nearest slope goes on."""
        return np.stack([_extended(y_mm, self.y_mm, column) for column in self.centres_mm.T], 1)

    def radius_at(
        self, y_mm: NDArray[np.float64], angle_rad: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        """Radii at heights and angles, (N,), bilinear."""
        row = np.interp(y_mm, self.y_mm, np.arange(len(self.y_mm)))
        column = np.mod(angle_rad, 2 * np.pi) / (2 * np.pi) * AROUND
        r0, c0 = np.floor(row).astype(int), np.floor(column).astype(int)
        r1, c1 = np.minimum(r0 + 1, len(self.y_mm) - 1), (c0 + 1) % AROUND
        c0 %= AROUND
        fr, fc = row - r0, column - np.floor(column)
        radii = self.radii_mm
        upper = (1 - fc) * radii[r0, c0] + fc * radii[r0, c1]
        lower = (1 - fc) * radii[r1, c0] + fc * radii[r1, c1]
        out: NDArray[np.float64] = (1 - fr) * upper + fr * lower
        return out


@dataclass(frozen=True, eq=False, slots=True)
class Cloth:
    """A mesh of cloth: (N, 3) points, quads, and what each point is.

    ``shade`` (N,) darkens seams and hems; ``is_pinned`` marks the waist; ``crotch`` are the
    points of the crotch seam, front to back (empty where there is none).
    """

    points_mm: NDArray[np.float64]
    faces: list[list[int]]
    shade: NDArray[np.float64]
    is_pinned: NDArray[np.bool_]
    crotch: NDArray[np.int64]


def girths_of(points_mm: NDArray[np.float64], y_mm: NDArray[np.float64]) -> Girths:
    """Convex outlines of a point cloud at heights, from its support functions."""
    centres, radii, known = [], [], []
    normal = np.stack([np.sin(_ANGLES), -np.cos(_ANGLES)], axis=1)
    between = np.cos(_ANGLES[:, None] - _ANGLES[None])
    for level in y_mm:
        near = points_mm[np.abs(points_mm[:, 1] - level) < _BAND_MM][:, [0, 2]]
        if len(near) < 6:
            continue
        centre = (near.min(axis=0) + near.max(axis=0)) / 2
        support = ((near - centre) @ normal.T).max(axis=0)
        reach = np.where(between > 0.05, support[None] / np.maximum(between, 0.05), np.inf)
        centres.append(centre)
        radii.append(reach.min(axis=1))
        known.append(level)
    at = np.array(known)
    # Outlines go on unchanged past the last height that has any.
    return Girths(
        y_mm=y_mm,
        centres_mm=np.stack([np.interp(y_mm, at, c) for c in np.array(centres).T], axis=1),
        radii_mm=np.stack([np.interp(y_mm, at, r) for r in np.array(radii).T], axis=1),
    )


def hung(
    girths: Girths, *, ease_mm: NDArray[np.float64], pull_in: float, from_y_mm: float
) -> Girths:
    """The outlines with ease (L,), falling straight below ``from_y_mm`` from what sticks out.

    ``pull_in`` is how far a fall of one may turn inwards; negative flares.
    """
    x, z = girths.centres_mm.T
    radii = girths.radii_mm + ease_mm[:, None]
    out = radii.copy()
    sin, cos = np.sin(_ANGLES), np.cos(_ANGLES)
    for row in range(1, len(radii)):
        drop = girths.y_mm[row] - girths.y_mm[row - 1]
        # Where the centre moves, the same cloth has another radius about it.
        shift = (x[row] - x[row - 1]) * sin - (z[row] - z[row - 1]) * cos
        falling = out[row - 1] - shift - pull_in * drop
        if girths.y_mm[row] > from_y_mm:
            out[row] = np.maximum(radii[row], falling)
    return Girths(girths.y_mm, girths.centres_mm, out)


def on(
    girths: Girths, y_mm: NDArray[np.float64], angle_rad: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Points of the outlines at heights and angles, (N, 3)."""
    centre, radius = girths.centre_at(y_mm), girths.radius_at(y_mm, angle_rad)
    return np.stack(
        [
            centre[:, 0] + radius * np.sin(angle_rad),
            y_mm,
            centre[:, 1] - radius * np.cos(angle_rad),
        ],
        axis=1,
    )


def tube(
    girths: Girths,
    *,
    top_y_mm: float,
    hem_y_mm: float,
    step_mm: float = 8.0,
    wave: Wave | None = None,
    hem_shade: float = 0.82,
) -> Cloth:
    """An open tube from top to hem; ``wave`` adds folds (millimetres at height and angle)."""
    rows = max(4, round((hem_y_mm - top_y_mm) / step_mm))
    y = np.repeat(np.linspace(top_y_mm, hem_y_mm, rows + 1), AROUND)
    angle = np.tile(_ANGLES, rows + 1)
    points = on(girths, y, angle)
    if wave is not None:
        out = wave(y, angle)
        points[:, 0] += out * np.sin(angle)
        points[:, 2] -= out * np.cos(angle)
    shade = np.where(np.abs(hem_y_mm - 18 - y) < step_mm * 0.6, hem_shade, 1.0)
    return Cloth(points, _lattice(rows, AROUND), shade, y < top_y_mm + 20, np.zeros(0, np.int64))


def trousers(
    pelvis: Girths,
    legs: tuple[Girths, Girths],
    *,
    waist_y_mm: float,
    fork_y_mm: float,
    crotch_mm: NDArray[np.float64],
    drop_mm: float,
    hems_y_mm: tuple[float, float],
    step_mm: float = 9.0,
    wave: Wave | None = None,
) -> Cloth:
    """Trousers whose crotch seam hangs ``drop_mm`` below the skin's crotch.

    Parameters
    ----------
    pelvis, legs
        Outlines with ease, of the hips and of the left and right leg.
    fork_y_mm
        Height at which the seam leaves the pelvis tube, in front and behind.
    crotch_mm
        The skin's crotch, (3,).
    hems_y_mm
        Where the left and the right leg end.
    """
    rows = max(3, round((fork_y_mm - waist_y_mm) / step_mm))
    y = np.repeat(np.linspace(waist_y_mm, fork_y_mm, rows + 1), AROUND)
    points = [on(pelvis, y, np.tile(_ANGLES, rows + 1))]
    faces = _lattice(rows, AROUND)
    ring = np.arange(rows * AROUND, (rows + 1) * AROUND)
    waist_band = y < waist_y_mm + 32
    front = np.abs(np.tile(np.arange(AROUND), rows + 1)) == 0
    shade = [np.where(waist_band, 0.85, np.where(front, 0.75, 1.0))]
    half = AROUND // 2
    count = half - 1
    along = np.arange(1, count + 1) / (count + 1)
    start, end = points[0][ring[0]], points[0][ring[half]]
    seam = start + along[:, None] * (end - start)
    low_y = crotch_mm[1] + drop_mm
    seam[:, 1] = fork_y_mm + (low_y - fork_y_mm) * np.sin(np.pi * along) ** 0.55
    first = len(points[0])
    crotch = np.arange(first, first + count)
    points.append(seam)
    shade.append(np.full(count, 0.75))
    first += count
    every = np.concatenate(points)
    middle_x = float(crotch_mm[0])
    for side, (leg, hem_y) in enumerate(zip(legs, hems_y_mm, strict=True)):
        # Once around each leg: over its outside, back along the crotch seam.
        outer = ring[: half + 1] if side == 0 else np.concatenate([ring[half:], ring[:1]])
        inner = crotch[::-1] if side == 0 else crotch
        loop = np.concatenate([outer, inner])
        begin = 0.0 if side == 0 else np.pi
        even = begin + 2 * np.pi * np.arange(AROUND) / AROUND
        top = every[loop]
        centre = leg.centre_at(np.full(AROUND, crotch_mm[1] + 20.0))
        own = np.arctan2(top[:, 0] - centre[:, 0], -(top[:, 2] - centre[:, 1]))
        own = even + (own - even + np.pi) % (2 * np.pi) - np.pi
        levels = max(8, round((hem_y - low_y) / step_mm))
        share = np.repeat(np.arange(1, levels + 1) / levels, AROUND)
        y_leg = np.tile(top[:, 1], levels) * (1 - share) + hem_y * share
        settle = np.clip(share / 0.3, 0, 1)
        settle = settle * settle * (3 - 2 * settle)
        angle = np.tile(own, levels) * (1 - settle) + np.tile(even, levels) * settle
        on_leg = on(leg, y_leg, angle)
        off_top = top - on(leg, top[:, 1], own)
        fade = np.clip(share / 0.22, 0, 1)
        fade = 1 - fade * fade * (3 - 2 * fade)
        tube_points = on_leg + np.tile(off_top, (levels, 1)) * fade[:, None]
        tube_points[:, 1] = y_leg
        if wave is not None:
            out = wave(y_leg + _OTHER_LEG_MM * side, angle) * np.clip(share / 0.15, 0, 1)
            tube_points[:, 0] += out * np.sin(angle)
            tube_points[:, 2] -= out * np.cos(angle)
        # The thighs' cloth touches in the middle but does not pass through.
        sign = 1.0 if side == 0 else -1.0
        beyond = sign * (tube_points[:, 0] - middle_x)
        tube_points[:, 0] = middle_x + sign * np.maximum(beyond, 0.6)
        first = len(every)
        every = np.concatenate([every, tube_points])
        place = np.concatenate([loop, np.arange(first, first + levels * AROUND)])
        faces += [[int(place[i]) for i in quad] for quad in _lattice(levels, AROUND)]
        number = np.tile(np.arange(AROUND), levels)
        is_seam = (number == half // 2) | (number == half + 1 + count // 2)
        is_hem = np.abs(y_leg - (hem_y - 20)) < step_mm * 0.6
        shade.append(np.where(is_hem | is_seam, 0.8, 1.0))
    pinned = np.zeros(len(every), bool)
    pinned[: len(y)] = y < waist_y_mm + 25
    return Cloth(every, faces, np.concatenate(shade), pinned, crotch)


def unit_normals(points_mm: NDArray[np.float64], faces: list[list[int]]) -> NDArray[np.float64]:
    """Vertex normals of a mesh of quads, (N, 3)."""
    quads = points_mm[np.array(faces)]
    area = np.cross(quads[:, 2] - quads[:, 0], quads[:, 3] - quads[:, 1])
    total = np.zeros_like(points_mm)
    for column in range(4):
        np.add.at(total, np.array(faces)[:, column], area)
    normals: NDArray[np.float64] = total / np.maximum(
        np.linalg.norm(total, axis=1, keepdims=True), 1e-9
    )
    return normals


def _lattice(rows: int, around: int) -> list[list[int]]:
    return [
        [
            row * around + k,
            row * around + (k + 1) % around,
            (row + 1) * around + (k + 1) % around,
            (row + 1) * around + k,
        ]
        for row in range(rows)
        for k in range(around)
    ]


def _extended(
    at: NDArray[np.float64], x: NDArray[np.float64], y: NDArray[np.float64]
) -> NDArray[np.float64]:
    return np.asarray(np.interp(at, x, y), float)
