"""How near a person points, in one place for every click (common practice, no source)."""

from typing import Final

from pose_fit.photo.photo import Photo

__all__ = ["ON_BODY_SD_LEGS", "click_sd_px"]

#: A sharp corner or end, clicked in the enlarged picture: a part of the picture's diagonal.
_ON_CORNER_SD_PART: Final = 0.0012
#: A place on the body or the floor, whose edge is soft, in legs: some 4 of the 400 pixels that a
#: leg takes on a phone's screen, half a fingertip's usual miss.
ON_BODY_SD_LEGS: Final = 0.010


def click_sd_px(photo: Photo) -> float:
    """Standard uncertainty of a clicked corner, pixels of the upright picture."""
    return max(_ON_CORNER_SD_PART * photo.diagonal_px, 1.0)
