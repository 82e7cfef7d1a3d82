"""Measured children as riders, and what the demo catalogue truly holds for each."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.people.measured import children, is_scored
from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.fit.fleet import Fleet
from pose_fit.fit.inseams_of_change import Thresholds, thresholds
from pose_fit.fit.policy import Policy, Rider

__all__ = ["NO_BICYCLE", "Riders", "Shop", "chart_riders", "met_riders", "shop_of"]

#: Place of a bicycle that stands for none.
NO_BICYCLE = -1


@dataclass(frozen=True, eq=False, slots=True)
class Riders:
    """N children, (N,) arrays; ``sex`` holds f and m. The inseam is derived, see calibration/data."""

    inseam_mm: NDArray[np.float64]
    stature_mm: NDArray[np.float64]
    age_y: NDArray[np.float64]
    sex: NDArray[np.str_]

    def __len__(self) -> int:
        return self.inseam_mm.size


def met_riders() -> Riders:
    """Children of 2 to 14 y that no shipped relation was fitted on."""
    return _riders(scored=True)


def chart_riders() -> Riders:
    """The other children, from whom a shop's charts are made."""
    return _riders(scored=False)


def _riders(*, scored: bool) -> Riders:
    people = children().dropna(subset=["inseam", "stature"])
    people = people[(people.age_y < 15) & (is_scored(people) == scored)]
    return Riders(
        people.inseam.to_numpy(float),
        people.stature.to_numpy(float),
        people.age_y.to_numpy(float),
        people.sex.to_numpy(str),
    )


@dataclass(frozen=True, eq=False, slots=True)
class Shop:
    """A catalogue of M bicycles with what it means for a rider.

    Attributes
    ----------
    merit
        (M,) array by which the program ranks bicycles it recommends: the inseam at which each
        is outgrown, less one standard uncertainty of it; without pedals after all others.
    """

    changes: Thresholds
    policy: Policy
    has_top_tube: NDArray[np.bool_]
    in_stock: NDArray[np.bool_]
    wheel_in: NDArray[np.float64]
    merit: NDArray[np.float64]

    def fits(self, inseam_mm: NDArray[np.float64]) -> NDArray[np.bool_]:
        """(N, M): in stock, the wanted clearance there, feet on the ground, room to grow."""
        true_mm = inseam_mm[:, None]
        return np.asarray(
            self.in_stock
            & self.changes.judged
            & (true_mm >= self.changes.good_from_mm)
            & (true_mm + self.policy.min_room_mm <= self.changes.cramped_from_mm)
        )

    def touches(self, inseam_mm: NDArray[np.float64]) -> NDArray[np.bool_]:
        """(N, M): a bar is there and the clearance over it is not above 0."""
        return np.asarray(self.has_top_tube & (inseam_mm[:, None] <= self.changes.contact_below_mm))

    def best_of(self, able: NDArray[np.bool_]) -> NDArray[np.intp]:
        """(N,) place of the bicycle of most merit among the able ones of (N, M)."""
        merit = np.where(able, self.merit, -np.inf)
        return np.asarray(np.where(able.any(axis=1), merit.argmax(axis=1), NO_BICYCLE))


def shop_of(bicycles: Sequence[Bicycle]) -> Shop:
    """The shop for a sure rider in sports shoes of the assumed sole."""
    policy = Policy()
    changes = thresholds(Fleet.of(bicycles), rider=Rider(), policy=policy)
    return Shop(
        changes=changes,
        policy=policy,
        has_top_tube=np.array([bicycle.has_top_tube for bicycle in bicycles]),
        in_stock=np.array([bicycle.in_stock is not False for bicycle in bicycles]),
        wheel_in=np.array([bicycle.tyre.wheel_class_in for bicycle in bicycles], float),
        merit=changes.cramped_from_mm
        - changes.cramped_sd_mm
        - np.array([0.0 if bicycle.pedals else 1e4 for bicycle in bicycles]),
    )
