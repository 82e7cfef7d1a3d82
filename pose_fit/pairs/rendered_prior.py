"""What is not known of real children before any pair: one line of a photo's budget, in one place."""

from typing import Final

from pose_fit.inseam.inseam import Inseam

__all__ = ["RENDERED_SD_MM", "RENDERED_SOURCE", "rendered_sd_mm"]

#: The budget line that stands for it: the error model was fitted to rendered children.
RENDERED_SOURCE: Final = "from pictures to people"
#: What it is taken to be where a budget has no such line: rendered worlds made apart from each
#: other differed by 12 mm in their mean error, on the one pair compared (weak).
RENDERED_SD_MM: Final = 8.0
#: Where a budget has no such line, at most this share of its variance is taken to be it.
_MOST_OF_VARIANCE: Final = 0.5


def rendered_sd_mm(photo: Inseam) -> float:
    """The part of a photo's standard uncertainty that all photos of all children share."""
    lines = [line.sd_mm for line in photo.length.budget if line.source == RENDERED_SOURCE]
    if lines:
        return max(lines)
    return float(min(RENDERED_SD_MM, _MOST_OF_VARIANCE**0.5 * photo.sd_mm))
