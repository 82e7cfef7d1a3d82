"""How likely a person of the measured lengths is: can somebody like that exist?

A person is a point in space of stature, inseam and distance between the pupils. All three
grow with age, but not alike: legs grow faster than the body, eyes move apart more slowly. So
their proportions tell a toddler from an adult, and with that how large either is. Where age,
sex or stature are stated they join in. Natural logarithms of millimetres throughout, so that
a wrong size of the object by which all was measured is one shift of all three.
"""

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.inseam_norms import inseam_at_stature, stature_at_z
from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM, Sex, sexes_of

__all__ = ["SeenPerson", "is_nobody", "person_log_likelihood", "pupils_apart_mm"]

#: Ages that are tried where none is stated, and how often each is photographed for a child's
#: bicycle: children of each age equally often, now and then a grown person (judgement).
_AGES_Y: Final = tuple(2 + 0.5 * step for step in range(33))
_GROWN_SHARE: Final = 0.05
_CHILD_UNTIL_Y: Final = 15.0
#: Statures of other countries and decades than the table's.
_POPULATION_LOG_SD: Final = 0.015
#: A stature that somebody stated, with shoes on and from memory now and then, millimetres.
_STATED_STATURE_SD_MM: Final = 20.0
#: Pupils of equal age: between persons some 5 % (MacLachlan & Howland 2002, from memory); they
#: follow the stature by a third.
_PUPILS_LOG_SD: Final = 0.055
_PUPILS_BY_STATURE: Final = 0.3
#: Pupils are found a little too near together, since few look straight into the lens.
_PUPILS_SEEN_LOG: Final = -0.05
#: Scale of everything together: the child's distance from the object.
_COMMON_LOG_SD: Final = 0.02
#: A person in fifty is none of these: bent, in costume, misread by the pose model.
_ODD_SHARE: Final = 0.02
_ODD_LOG_SD: Final = 0.5

_Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SeenPerson:
    """Lengths of one person by one object of known size; None where one was not seen.

    Attributes
    ----------
    inseam_mm, stature_mm, pupils_mm
        Millimetres.
    inseam_log_sd, stature_log_sd, pupils_log_sd
        Relative standard uncertainty of each, apart from what they have in common.
    """

    inseam_mm: float
    inseam_log_sd: float
    stature_mm: float | None = None
    stature_log_sd: float = 0.03
    pupils_mm: float | None = None
    pupils_log_sd: float = 0.08

    def scaled(self, factor: float) -> "SeenPerson":
        """The same person by an object that is larger by this factor."""
        return replace(
            self,
            inseam_mm=self.inseam_mm * factor,
            stature_mm=None if self.stature_mm is None else self.stature_mm * factor,
            pupils_mm=None if self.pupils_mm is None else self.pupils_mm * factor,
        )


def pupils_apart_mm(age_y: float, sex: Sex) -> float:
    """Mean distance between the pupils (MacLachlan & Howland 2002, Ophthalmic Physiol Opt 22, 175).

    The coefficients are from memory. They lie within 3 % of 220 other children of 2 to 6 years
    (Pacific University norms, 1993) and 4 % below the adults' 63 mm (Dodgson 2004, SPIE 5291, 36).
    """
    age_y = min(age_y, 18.0)
    if sex == "f":
        return 41.76 + 1.891 * age_y - 0.052 * age_y**2
    return 43.36 + 1.663 * age_y - 0.034 * age_y**2


def person_log_likelihood(seen: SeenPerson, child: Child) -> float:
    """Logarithm of the probability density of these lengths among people, up to a constant.

    Comparable where the same lengths were seen.
    """
    given, noise = _given(seen)
    people = _people(child)
    logs = np.log(people.shares) + _log_normals(given - people.means, people.covariances + noise)
    odd = _log_normals(
        given[None] - people.shares @ people.means, np.eye(3)[None] * _ODD_LOG_SD**2 + noise
    )
    usual = np.logaddexp.reduce(logs)
    return float(np.logaddexp(math.log1p(-_ODD_SHARE) + usual, math.log(_ODD_SHARE) + odd[0]))


def is_nobody(seen: SeenPerson, child: Child) -> bool:
    """Whether no person of the stated age, or of any where none is stated, looks like that."""
    given, noise = _given(seen)
    people = _people(child)
    squares, _ = _squares(given - people.means, people.covariances + noise)
    return bool(squares.min() > _NOBODY[np.isfinite(given).sum() - 1])


#: Chi-square of 1, 2 and 3 degrees of freedom passed by one in ten thousand.
_NOBODY: Final = (15.1, 18.4, 21.1)


@dataclass(frozen=True, slots=True, eq=False)
class _People:
    """G ages and sexes: (G,) shares, (G, 3) means and (G, 3, 3) covariances of the logarithms."""

    shares: _Array
    means: _Array
    covariances: _Array


def _given(seen: SeenPerson) -> tuple[_Array, _Array]:
    lengths = np.array([seen.stature_mm or math.nan, seen.inseam_mm, seen.pupils_mm or math.nan])
    own = np.diag(np.square([seen.stature_log_sd, seen.inseam_log_sd, seen.pupils_log_sd]))
    return np.log(lengths) - [0.0, 0.0, _PUPILS_SEEN_LOG], own + _COMMON_LOG_SD**2


@lru_cache(maxsize=64)
def _people(child: Child) -> _People:
    ages_y = _AGES_Y if child.age_y is None else (child.age_y,)
    groups = [(age_y, sex) for age_y in ages_y for sex in sexes_of(child.sex)]
    weights = np.array([_weight(age_y) for age_y, _ in groups])
    means, covariances = zip(
        *(_group(age_y, sex, child.stature_mm) for age_y, sex in groups), strict=True
    )
    return _People(weights / weights.sum(), np.stack(means), np.stack(covariances))


def _weight(age_y: float) -> float:
    if age_y < _CHILD_UNTIL_Y:
        return 1.0
    # The last age stands for everybody who is grown.
    grown = sum(age < _CHILD_UNTIL_Y for age in _AGES_Y) * _GROWN_SHARE
    return grown / 2 if age_y == _AGES_Y[-1] else grown / 12


def _group(age_y: float, sex: Sex, stated_mm: float | None) -> tuple[_Array, _Array]:
    low_mm, high_mm = STATURE_RANGE_MM
    usual_mm = stature_at_z(0, age_y=age_y, sex=sex)
    log_sd = math.hypot(
        math.log(stature_at_z(1, age_y=age_y, sex=sex) / usual_mm), _POPULATION_LOG_SD
    )
    if stated_mm is None:
        stature_mm = min(max(usual_mm, low_mm), high_mm)
    else:
        stature_mm, log_sd = stated_mm, _STATED_STATURE_SD_MM / stated_mm
    legs = inseam_at_stature(stature_mm, sex=sex)
    by_stature = np.array([1.0, legs.slope * stature_mm / legs.mean_mm, _PUPILS_BY_STATURE])
    own = np.diag(np.square([0.0, legs.sd_mm / legs.mean_mm, _PUPILS_LOG_SD]))
    mean = np.log([stature_mm, legs.mean_mm, pupils_apart_mm(age_y, sex)])
    return mean, np.outer(by_stature, by_stature) * log_sd**2 + own


def _squares(off: _Array, covariances: _Array) -> tuple[_Array, _Array]:
    """(G,) squared distances by the lengths that were seen, and their (G, U, U) covariances."""
    used = np.flatnonzero(np.isfinite(off[0]))
    off, covariances = off[:, used], covariances[:, used[:, None], used]
    solved = np.linalg.solve(covariances, off[..., None])[..., 0]
    squares: _Array = (off * solved).sum(axis=1)
    return squares, covariances


def _log_normals(off: _Array, covariances: _Array) -> _Array:
    squares, used = _squares(off, covariances)
    logs: _Array = -0.5 * (squares + np.linalg.slogdet(used)[1])
    return logs
