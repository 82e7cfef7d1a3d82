"""How thick soles are: those in the picture, and those of the shoe to ride in."""

from typing import Final

__all__ = ["RIDING_SOLES_MM", "SOLES_BY_RULER_SD_MM", "UNKNOWN_SOLES_MM", "soles_in_picture_mm"]

#: Thickness and standard uncertainty of the soles in a picture where nobody stated them: barefoot
#: to thick sports shoes, millimetres (common practice, no source).
UNKNOWN_SOLES_MM: Final = (10.0, 9.0)
#: Thickness and standard uncertainty of the shoe to ride in: a child's sports shoe of unknown make
#: (common practice, no source).
RIDING_SOLES_MM: Final = (15.0, 4.0)
#: Standard uncertainty of a sole measured with a ruler at the shoe's edge, millimetres: worn and
#: curved soles differ under the heel and the ball (common practice, no source).
SOLES_BY_RULER_SD_MM: Final = 3.0


def soles_in_picture_mm(measured_mm: float | None) -> tuple[float, float]:
    """Thickness and standard uncertainty of the soles in a picture, measured or not."""
    return UNKNOWN_SOLES_MM if measured_mm is None else (measured_mm, SOLES_BY_RULER_SD_MM)
