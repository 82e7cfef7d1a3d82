"""The third trial: made without knowing any rule, and split by chance before anybody scored it.

It came in two parts of 32; each was split when it was complete, so that no picture changes sides.
"""

from dataclasses import replace
from typing import Final

import numpy as np

from calibration.doubtful.look_alikes.clicks import CLICKS
from calibration.doubtful.look_alikes.flat_things import FLAT_THINGS
from calibration.doubtful.look_alikes.look_alike import LookAlike, ScoreSet
from calibration.doubtful.look_alikes.other_planes import OTHER_PLANES
from calibration.doubtful.look_alikes.round_things import ROUND_THINGS
from calibration.doubtful.look_alikes.sheets import SHEETS

__all__ = ["THIRD_TRIAL"]

_HALVES: Final[tuple[ScoreSet, ScoreSet]] = ("third trial, first half", "third trial, second half")


def _split(cases: tuple[LookAlike, ...], seed: int) -> tuple[LookAlike, ...]:
    """Half of the cases to either side, by chance and the seed alone."""
    names = sorted(case.name for case in cases)
    drawn = np.random.default_rng(seed).permutation(len(names))
    second = {names[at] for at in drawn[len(names) // 2 :]}
    return tuple(replace(case, score_set=_HALVES[case.name in second]) for case in cases)


THIRD_TRIAL: Final[tuple[LookAlike, ...]] = (
    *_split((*SHEETS, *FLAT_THINGS, *OTHER_PLANES, *ROUND_THINGS, *CLICKS), seed=20261127),
)
