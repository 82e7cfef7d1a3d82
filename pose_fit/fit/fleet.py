"""A catalogue as arrays, so that one call judges thousands of bicycles."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pose_fit.bicycle.bicycle import Bicycle

__all__ = ["Fleet"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False, slots=True)
class Fleet:
    """Geometry of M bicycles, each an (M,) array of millimetres; not known is NaN.

    Attributes
    ----------
    has_top_tube, has_pedals
        (M,) bool, whether there is a top tube to clear, and pedals to ride with.
    saddle_run
        Backward travel of the saddle for each millimetre of its height, the cotangent of the
        seat tube's angle.
    """

    standover_mm: Array
    standover_sd_mm: Array
    has_top_tube: NDArray[np.bool_]
    has_pedals: NDArray[np.bool_]
    saddle_min_mm: Array
    saddle_max_mm: Array
    crank_mm: Array
    bottom_bracket_height_mm: Array
    saddle_run: Array
    handlebar_reach_mm: Array
    handlebar_height_mm: Array

    @classmethod
    def of(cls, bicycles: Sequence[Bicycle]) -> "Fleet":
        """Arrays of a sequence of bicycles, in its order."""

        def column(name: str) -> Array:
            return np.array([getattr(bike, name) for bike in bicycles], dtype=np.float64)

        return cls(
            standover_mm=column("standover_mm"),
            standover_sd_mm=column("standover_sd_mm"),
            has_top_tube=column("has_top_tube") > 0,
            has_pedals=column("pedals") > 0,
            saddle_min_mm=column("saddle_min_mm"),
            saddle_max_mm=column("saddle_max_mm"),
            crank_mm=column("crank_mm"),
            bottom_bracket_height_mm=column("bottom_bracket_height_mm"),
            saddle_run=1 / np.tan(column("seat_tube_angle_rad")),
            handlebar_reach_mm=column("handlebar_reach_mm"),
            handlebar_height_mm=column("handlebar_height_mm"),
        )

    def __len__(self) -> int:
        return self.standover_mm.size

    def take(self, index: NDArray[np.intp]) -> "Fleet":
        """The bicycles at these places."""
        return Fleet(*(getattr(self, name)[index] for name in self.__slots__))
