"""What a finder gives: several places that may be the one looked for, each with its weight.

The weights of one finder's candidates are shares of belief by the picture alone and add up to
less than 1; the rest says that none of them is right. Which of them is believed is decided
later, where all that is known of the photo is weighed together.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "BookCrotch",
    "CrotchCandidate",
    "CrotchKind",
    "ToesCandidate",
    "WallBaseCandidate",
]

#: The end of the line between the legs; the hem of a shirt into which that line runs; a place
#: that a person clicked, on a line or through cloth; the skin's crotch as the network guesses it.
CrotchKind = Literal["line", "hem", "click", "guess", "learned"]


@dataclass(frozen=True, eq=False, slots=True)
class CrotchCandidate:
    """A place where the legs may part.

    Attributes
    ----------
    point_px
        (2,) array, upright pixels.
    edge_sd_px
        Standard uncertainty in each direction, upright pixels.
    weight
        Share of belief, 0 to 1.
    hang_part
        Of the network's crotch: how far below it the network sees the cloth hang, in legs.
    """

    point_px: NDArray[np.float64]
    edge_sd_px: float
    weight: float
    kind: CrotchKind = "line"
    hang_part: float = 0.0

    @property
    def is_clicked(self) -> bool:
        """A person pointed at it."""
        return self.kind in ("click", "guess")

    @property
    def is_at_skin(self) -> bool:
        """It is where the body's crotch is, not where a line or cloth ends before it."""
        return self.kind == "learned"


@dataclass(frozen=True, slots=True, eq=False)
class BookCrotch:
    """The crotch as a book shows it that is pushed up between the legs, whatever is worn.

    Attributes
    ----------
    point_px
        (2,) array: middle of the label's top edge, upright pixels.
    edge_sd_px
        Standard uncertainty of the edge in the picture.
    depth_mm, depth_sd_mm
        How far the edge stands before the reference's plane.
    level_mm, level_sd_mm
        How far the edge lies below the crotch.
    """

    point_px: NDArray[np.float64]
    edge_sd_px: float
    depth_mm: float
    depth_sd_mm: float
    level_mm: float
    level_sd_mm: float


@dataclass(frozen=True, eq=False, slots=True)
class ToesCandidate:
    """The lowest points of the feet.

    Attributes
    ----------
    points_px
        (2, 2) array, upright pixels, left and right; twice the same where one is seen or clicked.
    weight
        Share of belief, 0 to 1.
    is_clicked
        A person pointed at it.
    """

    points_px: NDArray[np.float64]
    weight: float
    is_clicked: bool = False

    @property
    def is_single(self) -> bool:
        """One point stands for both feet, so that both err as one."""
        return bool((self.points_px[0] == self.points_px[1]).all())


@dataclass(frozen=True, eq=False, slots=True)
class WallBaseCandidate:
    """A line along which wall and floor may meet.

    Attributes
    ----------
    line_px
        (2, 2) array: two places on it, left and right of the child, upright pixels.
    weight
        Share of belief, 0 to 1.
    """

    line_px: NDArray[np.float64]
    weight: float
