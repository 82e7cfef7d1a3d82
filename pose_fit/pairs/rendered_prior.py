"""What is not known of real children before any pair: one line of a photo's budget, in one place."""

from typing import Final

from pose_fit.inseam.error_model import WORLD_SOURCE, error_model
from pose_fit.inseam.inseam import Inseam

__all__ = ["RENDERED_SD_MM", "rendered_sd_mm"]

#: The error model was fitted to rendered children: the line that stands for it.
RENDERED_SD_MM: Final = error_model().world_sd_mm
#: Where a budget has no such line, at most this share of its variance is taken to be it.
_MOST_OF_VARIANCE: Final = 0.5


def rendered_sd_mm(photo: Inseam) -> float:
    """The part of a photo's standard uncertainty that all photos of all children share."""
    lines = [line.sd_mm for line in photo.length.budget if line.source == WORLD_SOURCE]
    if lines:
        return max(lines)
    return float(min(RENDERED_SD_MM, _MOST_OF_VARIANCE**0.5 * photo.sd_mm))
