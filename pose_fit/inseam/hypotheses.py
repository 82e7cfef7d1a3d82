"""Which sights are believed: every choice of candidates, and the readings that each one gives."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import FLOORS, Floor, PhotoEquation, Top
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.sights.crotch import SEARCHED_PART
from pose_fit.sights.toes import SEARCHED_BELOW_PART
from pose_fit.sights.wall_base import SEARCHED_MM

__all__ = ["READINGS", "Hypothesis", "Readings", "hypotheses_of", "readings_of"]

#: Top and floor of every reading that there may be, in the order of the values.
READINGS: Final[tuple[tuple[Top, Floor], ...]] = tuple(product(("legs", "crotch"), FLOORS))


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One choice: the place of the believed candidate of each sight, or None, and the heels.

    Attributes
    ----------
    heels_free
        The heels are off the wall.
    log_prior
        Logarithm of its weight before the readings are compared: the finders' shares of
        belief, and what it means that a wrong candidate may lie anywhere.
    """

    crotch: int | None
    toes: int | None
    wall_base: int | None
    heels_free: bool
    log_prior: float

    def floors(self, equation: PhotoEquation) -> dict[Floor, int]:
        """The believed floors with the place of their hip height among the equation's values."""
        chosen = {"ankles": 0, "toes": self.toes, "wall base": self.wall_base, "wheel": 0}
        return {
            floor: place
            for place, (floor, candidate) in enumerate(equation.heights)
            if chosen[floor] == candidate
        }


def hypotheses_of(
    sights: PhotoSights, straight_mm: float, *, model: ErrorModel
) -> tuple[Hypothesis, ...]:
    """Every choice with a weight above 0.

    A candidate that is not believed is clutter and lies anywhere in what was searched, so that
    one that is believed has to agree with the rest better than by such a chance.
    """
    crotches = _options([one.weight for one in sights.crotches], SEARCHED_PART * straight_mm)
    if sights.book is not None:
        crotches = [(len(sights.crotches), 0.0)]
    toes = _options([one.weight for one in sights.toes], SEARCHED_BELOW_PART * straight_mm)
    bases = _options([one.weight for one in sights.wall_bases], SEARCHED_MM)
    heels = [(False, 0.0)]
    if not sights.is_beside:
        share = model.free_share
        heels = [(False, math.log(1 - share)), (True, math.log(share))]
    return tuple(
        Hypothesis(crotch, toe, base, free, of_crotch + of_toe + of_base + of_heels)
        for (crotch, of_crotch), (toe, of_toe), (base, of_base), (free, of_heels) in product(
            crotches, toes, bases, heels
        )
    )


def _options(weights: list[float], searched_mm: float) -> list[tuple[int | None, float]]:
    """Each candidate, and none of them, with the logarithm of its weight."""

    def made() -> Iterator[tuple[int | None, float]]:
        for place, weight in enumerate(weights):
            yield place, math.log(weight * searched_mm)
        none = 1 - sum(weights)
        if none > 1e-9:
            yield None, math.log(none)

    return list(made())


@dataclass(frozen=True, eq=False, slots=True)
class Readings:
    """Which readings each of H hypotheses has, as linear forms of the equation's Z values.

    Attributes
    ----------
    forms, constants_mm
        (H, R, Z) and (H, R) arrays: reading = forms @ values + constant.
    present
        (H, R) flags.
    independent
        (H, R) flags: the rest follow from these, since two tops over two floors differ alike.
    """

    forms: NDArray[np.float64]
    constants_mm: NDArray[np.float64]
    present: NDArray[np.bool_]
    independent: NDArray[np.bool_]


def readings_of(hypotheses: tuple[Hypothesis, ...], equation: PhotoEquation) -> Readings:
    """The readings in the order of `READINGS`."""
    by_hip = people().inseam_from_hip_height
    heights = len(equation.heights)
    shape = (len(hypotheses), len(READINGS))
    forms = np.zeros((*shape, heights + equation.drops + 1))
    present, independent = np.zeros(shape, bool), np.zeros(shape, bool)
    constants_mm = np.zeros(shape)
    for row, hypothesis in enumerate(hypotheses):
        floors = hypothesis.floors(equation)
        for column, (top, floor) in enumerate(READINGS):
            if floor not in floors or (top == "crotch" and hypothesis.crotch is None):
                continue
            form = forms[row, column]
            present[row, column] = True
            if top == "legs":
                form[floors[floor]], form[-1] = by_hip.slope, 1.0
                constants_mm[row, column] = by_hip.intercept_mm
                independent[row, column] = floor == "ankles" or hypothesis.crotch is None
            else:
                form[floors[floor]] = 1.0
                form[heights + (hypothesis.crotch or 0)] = -1.0
                independent[row, column] = True
    return Readings(forms, constants_mm, present, independent)
