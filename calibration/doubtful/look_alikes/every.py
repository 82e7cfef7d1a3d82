"""All look-alikes: those of the object, those of the person, and some of both."""

from typing import Final

from calibration.doubtful.look_alikes.bright_things import BRIGHT_THINGS
from calibration.doubtful.look_alikes.bystanders import BYSTANDERS
from calibration.doubtful.look_alikes.doors import DOORS
from calibration.doubtful.look_alikes.garments import GARMENTS
from calibration.doubtful.look_alikes.look_alike import LookAlike
from calibration.doubtful.look_alikes.papers import PAPERS
from calibration.doubtful.look_alikes.points import POINTS
from calibration.doubtful.look_alikes.stances import STANCES
from calibration.doubtful.look_alikes.third_trial import THIRD_TRIAL
from calibration.doubtful.look_alikes.wheels import WHEELS

__all__ = ["LOOK_ALIKES"]

LOOK_ALIKES: Final[tuple[LookAlike, ...]] = (
    *BRIGHT_THINGS,
    *PAPERS,
    *DOORS,
    *WHEELS,
    *POINTS,
    *GARMENTS,
    *BYSTANDERS,
    *STANCES,
    *THIRD_TRIAL,
)
