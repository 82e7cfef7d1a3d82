"""The measurement equation of a photo: heights and drops from what is seen, readings from them.

With the plane of the reference solved, every point is a ray that meets the body at a
depth in front of that plane. Then, all along the direction of the legs,

    straight leg = hip to knee + knee to ankle, mean of both sides
    upright      = sqrt(straight leg^2 - (hips' and ankles' half widths apart)^2)
    lowered      = upright - (ankles - hips)
    hip height   = upright + ankle height, by a regression on the straight leg; or
                   floor - hips + lowered - soles, for each way the floor is seen
    drop          = crotch - hips - how far the line ends below the crotch
    reading by the legs   = inseam by a regression on the hip height, from measured people
    reading by the crotch = hip height - drop

A wide stance or slightly bent knees are straightened in one place, `lowered`. In the
readings by the crotch the hip landmark all but cancels out where the legs are straight,
and with a seen floor the ankles do too. Every candidate of every sight has its height or drop;
a reading is a linear form of them, so that one propagation serves every choice of candidates.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeVar, get_args

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.photogrammetry.projection import PARAMETER_COUNT, cast, reference_size

__all__ = [
    "FLOORS",
    "STANCE_ANKLES_APART_MM",
    "Floor",
    "LegGeometry",
    "PhotoEquation",
    "Top",
    "foot_reach_mm",
    "leg_geometry",
]

#: What the upper end of a reading is: the hip joints, less what lies between them and the
#: crotch in measured people; or the crotch itself, where the legs part.
Top = Literal["legs", "crotch"]
#: What the lower end is: the ankles, less their height in measured people; the lowest points
#: of the feet; the line where wall and floor meet; or the foot of a wheel.
Floor = Literal["ankles", "toes", "wall base", "wheel"]
FLOORS: Final[tuple[Floor, ...]] = get_args(Floor)

#: Distance between the ankles in the stance that defines the inseam: feet slightly apart.
STANCE_ANKLES_APART_MM: Final = 135.0


@dataclass(frozen=True, eq=False, slots=True)
class LegGeometry:
    """The legs in the plane's frame, millimetres.

    Attributes
    ----------
    hips_mm, knees_mm, ankles_mm
        (2, 3) arrays, left and right.
    straight_mm
        Hip to knee to ankle, mean of both sides.
    upright_mm
        Height of the hips over the ankles when standing erect.
    down
        (3,) unit vector from between the hips to between the ankles, in the plane.
    """

    hips_mm: NDArray[np.float64]
    knees_mm: NDArray[np.float64]
    ankles_mm: NDArray[np.float64]
    straight_mm: float
    upright_mm: float
    down: NDArray[np.float64]

    @property
    def thigh_mm(self) -> float:
        """Hip to knee, mean of both sides."""
        return float(np.linalg.norm(self.knees_mm - self.hips_mm, axis=1).mean())

    @property
    def shank_mm(self) -> float:
        """Knee to ankle, mean of both sides."""
        return float(np.linalg.norm(self.ankles_mm - self.knees_mm, axis=1).mean())


def leg_geometry(
    plane: NDArray[np.float64],
    joints_px: NDArray[np.float64],
    gap_mm: float,
    depth_parts: NDArray[np.float64],
    shift_parts: NDArray[np.float64],
) -> LegGeometry:
    """Joints in millimetres.

    Parameters
    ----------
    plane
        (12,) array of plane parameters.
    joints_px
        (6, 2) array in the order of `LEG_LANDMARKS`.
    gap_mm
        Distance from the reference's plane to the heels.
    depth_parts
        (3,) array: how far hip, knee and ankle lie in front of the heels, as parts of
        the straight leg.
    shift_parts
        (2,) array: how far the pose model's hip and ankle lie below the joint centres,
        as parts of the straight leg.
    """
    legs = _Legs.of(plane, joints_px, np.array([gap_mm]), depth_parts, shift_parts)
    return LegGeometry(
        legs.hips_mm,
        legs.knees_mm,
        legs.ankles_mm,
        float(legs.straight_mm),
        float(legs.upright_mm),
        legs.down,
    )


@dataclass(frozen=True, eq=False, slots=True)
class _Legs:
    """As `LegGeometry`, of many inputs at once: leading axes of every array alike."""

    hips_mm: NDArray[np.float64]
    knees_mm: NDArray[np.float64]
    ankles_mm: NDArray[np.float64]
    straight_mm: NDArray[np.float64]
    upright_mm: NDArray[np.float64]
    down: NDArray[np.float64]

    @classmethod
    def of(
        cls,
        plane: NDArray[np.float64],
        joints_px: NDArray[np.float64],
        gap_mm: NDArray[np.float64],
        depth_parts: NDArray[np.float64],
        shift_parts: NDArray[np.float64],
    ) -> "_Legs":
        """From (..., 12), (..., 6, 2), (..., 1), (..., 3) and (..., 2) arrays."""
        straight_mm = np.zeros(plane.shape[:-1])
        # The depths are parts of the leg's length, which is known only after the depths: three
        # rounds suffice, since a depth of a tenth of the distance changes the scale by a tenth.
        for _ in range(3):
            depths_mm = np.repeat(gap_mm + depth_parts * straight_mm[..., None], 2, axis=-1)
            points_mm = cast(plane, joints_px, depths_mm)
            hips_mm, knees_mm, ankles_mm = (points_mm[..., i : i + 2, :] for i in (0, 2, 4))
            shifts_mm = shift_parts * straight_mm[..., None]
            hips_mm = _moved_towards(hips_mm, knees_mm, -shifts_mm[..., 0])
            ankles_mm = _moved_towards(ankles_mm, knees_mm, shifts_mm[..., 1])
            straight_mm = _length(knees_mm - hips_mm).mean(axis=-1) + _length(
                ankles_mm - knees_mm
            ).mean(axis=-1)
        down = ankles_mm.mean(axis=-2) - hips_mm.mean(axis=-2)
        down[..., 2] = 0.0
        down /= _length(down)[..., None]
        hips_apart_mm = _length((hips_mm[..., 0, :] - hips_mm[..., 1, :])[..., :2])
        sideways_mm = (STANCE_ANKLES_APART_MM - hips_apart_mm) / 2
        upright_mm = np.sqrt(np.maximum(straight_mm**2 - sideways_mm**2, 0.0))
        return cls(hips_mm, knees_mm, ankles_mm, straight_mm, upright_mm, down)


def _length(vectors: NDArray[np.float64]) -> NDArray[np.float64]:
    length: NDArray[np.float64] = np.sqrt((vectors * vectors).sum(axis=-1))
    return length


def _along(vectors: NDArray[np.float64], way: NDArray[np.float64]) -> NDArray[np.float64]:
    """Components of (..., 3) vectors along (..., 3) unit vectors."""
    part: NDArray[np.float64] = (vectors * way).sum(axis=-1)
    return part


def _moved_towards(
    points_mm: NDArray[np.float64], targets_mm: NDArray[np.float64], by_mm: NDArray[np.float64]
) -> NDArray[np.float64]:
    ways = targets_mm - points_mm
    moved: NDArray[np.float64] = (
        points_mm + by_mm[..., None, None] * ways / _length(ways)[..., None]
    )
    return moved


@dataclass(frozen=True, slots=True)
class PhotoEquation:
    """Heights and drops that a photo gives, for every candidate of every sight.

    Attributes
    ----------
    crotches, toes, wall_bases
        How many candidates there are of each.
    has_book
        A book between the legs shows the crotch.
    wheel_radius_mm
        The reference is a wheel of this radius standing on the same floor, or None.
    at_skin
        Which crotches are the skin's own; none where it is left out.
    """

    crotches: int
    toes: int
    wall_bases: int
    wheel_radius_mm: float | None
    has_book: bool = False
    at_skin: tuple[bool, ...] = ()

    @property
    def drops(self) -> int:
        """How many places the crotch may be: each candidate, and the book's."""
        return self.crotches + self.has_book

    @property
    def heights(self) -> tuple[tuple[Floor, int], ...]:
        """Floor and candidate of each hip height, in the order of the values."""
        counts = (1, self.toes, self.wall_bases, int(self.wheel_radius_mm is not None))
        return tuple(
            (floor, place)
            for floor, count in zip(FLOORS, counts, strict=True)
            for place in range(count)
        )

    def __call__(self, inputs: Sequence[NDArray[np.float64]]) -> NDArray[np.float64]:
        """(..., Z) hip heights, then drops by crotch, then the departure of hip to crotch, in mm.

        Parameters
        ----------
        inputs
            Arrays whose last axis is told here, any leading axes alike: plane parameters (12,),
            joints in pixels (12,), gap in mm (1,), depth parts of hip, knee, ankle and crotch
            (4,), shift parts of hip and ankle (2,), the child's departures from the
            regressions of ankle height and of inseam on hip height in mm (2,), soles in mm
            (1,); then, where there are any, each crotch in pixels (2,), how far the line ends
            below the crotch in mm (1,), and of those at the skin how far they lie below the crotch
            and how far behind the line's end, in parts (2,); a book's top edge in pixels (2,), its depth in mm (1,) and
            how far it lies below the crotch in mm (1,); the toes of each candidate in pixels (4,) and how far
            they reach beyond the foot length's regression in mm (1,); two places on each wall
            base in pixels (4,) and how far it stands before the wall in mm (1,).
        """
        given = iter(inputs)
        plane, joints_px, gap_mm, depth_parts, shift_parts, departures_mm, soles_mm = (
            next(given) for _ in range(7)
        )
        if plane.shape[-1] != PARAMETER_COUNT:
            raise ValueError(f"wanted {PARAMETER_COUNT} plane parameters, found {plane.shape}")
        joint_parts, crotch_part = depth_parts[..., :3], depth_parts[..., 3:]
        legs = _Legs.of(plane, _pairs(joints_px), gap_mm, joint_parts, shift_parts)
        hips_mm = legs.hips_mm.mean(axis=-2)
        drops_mm: list[NDArray[np.float64]] = []
        if self.crotches:
            drops_mm += self._drops(given, plane, gap_mm, crotch_part, legs)
        if self.has_book:
            edge_px, edge_depth_mm, level_mm = (next(given) for _ in range(3))
            edge_mm = cast(plane, edge_px[..., None, :], edge_depth_mm)[..., 0, :]
            drops_mm.append(_along(edge_mm - hips_mm, legs.down) - level_mm[..., 0])
        ankle = people().ankle_height_from_hip_to_ankle
        ankle_height_mm = ankle.mean_mm(legs.straight_mm) + departures_mm[..., 0]
        # A wide stance or bent knee lowers hips and crotch alike.
        lowered_mm = legs.upright_mm - _along(legs.ankles_mm.mean(axis=-2) - hips_mm, legs.down)
        heights_mm = [legs.upright_mm + ankle_height_mm]
        heights_mm += [
            below_hips_mm - soles_mm[..., 0] + lowered_mm
            for below_hips_mm in self._floors(given, plane, gap_mm, legs, hips_mm)
        ]
        return np.stack(np.broadcast_arrays(*heights_mm, *drops_mm, departures_mm[..., 1]), axis=-1)

    def _drops(
        self,
        given: Iterator[NDArray[np.float64]],
        plane: NDArray[np.float64],
        gap_mm: NDArray[np.float64],
        line_part: NDArray[np.float64],
        legs: "_Legs",
    ) -> Iterator[NDArray[np.float64]]:
        """How far each crotch lies below the hips."""
        hips_mm, straight_mm = legs.hips_mm.mean(axis=-2), legs.straight_mm[..., None]
        at_skin = self.at_skin or (False,) * self.crotches
        crotches_px = [next(given) for _ in range(self.crotches)]
        hang_mm = np.zeros(1) if all(at_skin) else next(given)
        skin_parts = next(given) if any(at_skin) else np.zeros(2)
        for crotch_px, is_at_skin in zip(crotches_px, at_skin, strict=True):
            part = line_part - skin_parts[..., 1:] if is_at_skin else line_part
            below_mm = skin_parts[..., :1] * straight_mm if is_at_skin else hang_mm
            depth_mm = gap_mm + part * straight_mm
            crotch_mm = cast(plane, crotch_px[..., None, :], depth_mm)[..., 0, :]
            yield _along(crotch_mm - hips_mm, legs.down) - below_mm[..., 0]

    def _floors(
        self,
        given: Iterator[NDArray[np.float64]],
        plane: NDArray[np.float64],
        gap_mm: NDArray[np.float64],
        legs: "_Legs",
        hips_mm: NDArray[np.float64],
    ) -> Iterator[NDArray[np.float64]]:
        """How far each floor but the ankles' lies below the hips."""
        if self.toes:
            toes_px = [next(given) for _ in range(self.toes)]
            depth_mm = gap_mm + foot_reach_mm(legs.straight_mm)[..., None] + next(given)
            for one_px in toes_px:
                toes_mm = cast(plane, _pairs(one_px), depth_mm) - hips_mm[..., None, :]
                yield _along(toes_mm, legs.down[..., None, :]).mean(axis=-1)
        if self.wall_bases:
            lines_px = [next(given) for _ in range(self.wall_bases)]
            before_mm = next(given)
            across = legs.down[..., [1, 0, 2]] * np.array([1.0, -1.0, 0.0])
            for line_px in lines_px:
                ends_mm = cast(plane, _pairs(line_px), before_mm) - hips_mm[..., None, :]
                yield _crossing(
                    _along(ends_mm, across[..., None, :]), _along(ends_mm, legs.down[..., None, :])
                )
        if self.wheel_radius_mm is not None:
            radius_mm = self.wheel_radius_mm * reference_size(plane)
            yield radius_mm - _along(hips_mm, legs.down)


def _pairs(flat_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """(..., 2 N) coordinates as (..., N, 2) points."""
    return flat_px.reshape(*flat_px.shape[:-1], -1, 2)


_Length = TypeVar("_Length", float, NDArray[np.float64])


def foot_reach_mm(straight_mm: _Length) -> _Length:
    """Foot length expected of this leg; its hip-to-ankle length is near the inseam."""
    return people().foot_length_from_inseam.mean_mm(straight_mm)


def _crossing(across_mm: NDArray[np.float64], down_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Height of the line through two places where it passes below the hips."""
    part = -across_mm[..., 0] / (across_mm[..., 1] - across_mm[..., 0])
    height: NDArray[np.float64] = down_mm[..., 0] + part * (down_mm[..., 1] - down_mm[..., 0])
    return height
