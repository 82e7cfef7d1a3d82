"""A catalogue as arrays, so that one call judges thousands of bicycles."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pose_fit.bicycle.bicycle import Bicycle

__all__ = ["Fleet"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
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
        table = np.array(
            [
                (
                    bike.standover_mm,
                    bike.standover_sd_mm,
                    bike.has_top_tube,
                    bike.pedals,
                    bike.saddle_min_mm,
                    bike.saddle_max_mm,
                    bike.crank_mm,
                    bike.bottom_bracket_height_mm,
                    bike.seat_tube_angle_rad,
                    bike.handlebar_reach_mm,
                    bike.handlebar_height_mm,
                )
                for bike in bicycles
            ],
            dtype=np.float64,
        ).reshape(-1, 11)
        columns = np.ascontiguousarray(table.T)
        return cls(
            standover_mm=columns[0],
            standover_sd_mm=columns[1],
            has_top_tube=columns[2] > 0,
            has_pedals=columns[3] > 0,
            saddle_min_mm=columns[4],
            saddle_max_mm=columns[5],
            crank_mm=columns[6],
            bottom_bracket_height_mm=columns[7],
            saddle_run=1 / np.tan(columns[8]),
            handlebar_reach_mm=columns[9],
            handlebar_height_mm=columns[10],
        )

    def __len__(self) -> int:
        return self.standover_mm.size

    def take(self, index: NDArray[np.intp]) -> "Fleet":
        """The bicycles at these places."""
        return Fleet(*(getattr(self, name)[index] for name in self.__slots__))
