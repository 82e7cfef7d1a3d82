"""Look-alikes made after the rules were fixed, of pictures that no rule was made by."""

from typing import Final

from calibration.doubtful.look_alikes import LookAlike

__all__ = ["FRESH_LOOK_ALIKES"]

FRESH_LOOK_ALIKES: Final[tuple[LookAlike, ...]] = ()
