"""Which of several readings disagrees with the rest."""

from collections.abc import Sequence
from typing import Final

from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam

__all__ = ["odd_one_out"]

#: Readings that agree are this unlike each other once in twenty.
_AGREE_P: Final = 0.05


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
