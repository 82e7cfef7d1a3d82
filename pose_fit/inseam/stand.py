"""The two ways to stand: with the seat at the wall, or free of it.

A seat at the wall keeps the hips where they are: where the feet stand farther out the child
leans back, which is true of every body and every wall. Standing free the hips are over the
ankles, wherever those are. The propagation knows only the second; here its columns are turned
into those of the first.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.quantities import GAP_SOURCE, POSTURE_SOURCES
from pose_fit.metrology.propagation import Quantity

__all__ = ["Stand"]

_Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False, slots=True)
class Stand:
    """What each way to stand makes of three columns: heels' gap, ankle, and hip before ankle.

    Attributes
    ----------
    columns
        Where the three stand among the columns of the propagation.
    free_steps, wall_steps
        (3,) arrays: from the means that were propagated to those of the stand, in standard
        uncertainties.
    free, wall
        (3, 3) arrays: columns of the stand = columns propagated @ this.
    """

    columns: list[int]
    free_steps: _Array
    wall_steps: _Array
    free: _Array
    wall: _Array

    @classmethod
    def of(cls, quantities: list[Quantity], straight_mm: float, model: ErrorModel) -> "Stand":
        """From the inputs with the heels at the wall, and the leg's length."""
        sources = [source for quantity in quantities for source in quantity.sources]
        gap, ankle = sources.index(GAP_SOURCE), sources.index(POSTURE_SOURCES[0])
        gap_mean, gap_sd = (value / straight_mm for value in model.gap_at_wall_mm)
        free_mean, free_sd = (value / straight_mm for value in model.gap_free_mm)
        ankle_mean, ankle_sd = model.ankle_before_heel
        hip_mean, hip_sd = model.hip_before_ankle
        seat_mean, seat_sd = model.hip_before_wall
        lean = seat_mean - gap_mean - ankle_mean - hip_mean
        # What moves heels and ankles is taken back at the hips; theirs is the seat's alone.
        wall = np.eye(3)
        wall[2] = np.array([-gap_sd, -ankle_sd, seat_sd]) / hip_sd
        return cls(
            [gap, ankle, ankle + 1],
            np.array([(free_mean - gap_mean) / gap_sd, 0.0, 0.0]),
            np.array([0.0, 0.0, lean / hip_sd]),
            np.diag([free_sd / gap_sd, 1.0, 1.0]),
            wall,
        )

    def of_each(self, is_free: NDArray[np.bool_]) -> tuple[_Array, _Array]:
        """(H, 3, 1) steps and (H, 3, 3) changes of the columns of H hypotheses."""
        free = is_free[:, None, None]
        steps = np.where(free, self.free_steps[:, None], self.wall_steps[:, None])
        return steps, np.where(free, self.free, self.wall)
