"""What is known of the thickness of a sole."""

from typing import Final

__all__ = ["SOLES_BY_RULER_SD_MM"]

#: Standard uncertainty of a sole measured with a ruler at the shoe's edge, millimetres: worn and
#: curved soles differ under the heel and the ball (common practice, no source).
SOLES_BY_RULER_SD_MM: Final = 3.0
