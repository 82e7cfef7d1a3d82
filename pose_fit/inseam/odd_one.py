"""Which of several readings disagrees with the rest."""

from collections.abc import Sequence
from typing import Final

from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam

__all__ = ["are_of_one_child", "odd_one_out"]

#: Readings that agree are this unlike each other once in twenty.
_AGREE_P: Final = 0.05
#: Once in ten thousand: a slip in one of them, or not the same child.
_ONE_CHILD_P: Final = 1e-4


def are_of_one_child(readings: Sequence[Inseam]) -> bool:
    """Whether one inseam can have given all readings; fewer than two always can."""
    return len(readings) < 2 or combine_inseams(readings).p_value >= _ONE_CHILD_P


def odd_one_out(readings: Sequence[Inseam]) -> int | None:
    """Place of the reading without which the others agree best, where together they do not.

    None where all agree, where fewer than three cannot tell which of them errs, and where the
    others do not agree without it either.
    """
    if len(readings) < 3 or combine_inseams(readings).p_value >= _AGREE_P:
        return None
    without = [
        combine_inseams([*readings[:place], *readings[place + 1 :]]).p_value
        for place in range(len(readings))
    ]
    best = max(range(len(readings)), key=without.__getitem__)
    return best if without[best] >= _AGREE_P else None
