"""What the judgement depends on besides inseam and bicycle: the rider, and the shop's settings."""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import get_args

from pose_fit.anthropometry.soles import RIDING_SOLES_MM, SOLES_BY_RULER_SD_MM
from pose_fit.errors import PersonError
from pose_fit.fit.clearance import GOOD_BAND_MM, MIN_CLEARANCE_MM, Skill

__all__ = ["Policy", "Rider"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rider:
    """What is known of the child besides the inseam.

    Attributes
    ----------
    skill
        Riding skill.
    soles_mm, soles_sd_mm
        Sole thickness of the riding shoe and its standard uncertainty. The defaults are
        ``RIDING_SOLES_MM``.
    """

    skill: Skill = "sure"
    soles_mm: float = RIDING_SOLES_MM[0]
    soles_sd_mm: float = RIDING_SOLES_MM[1]

    def __post_init__(self) -> None:
        if self.skill not in get_args(Skill):
            raise PersonError(
                f"skill: wanted one of {', '.join(get_args(Skill))}, found {self.skill!r}"
            )
        if not 0 <= self.soles_mm <= 60:
            raise PersonError(f"wanted 0 to 60 mm, found {self.soles_mm:g} mm")
        if not 0 < self.soles_sd_mm <= 30:
            raise PersonError(
                f"soles_sd_mm: wanted above 0, at most 30 mm, found {self.soles_sd_mm}"
            )

    @classmethod
    def wearing(cls, soles_mm: float | None, *, skill: Skill = "sure") -> "Rider":
        """A rider whose soles were measured with a ruler; usual ones where nothing was measured."""
        if soles_mm is None:
            return cls(skill=skill)
        return cls(skill=skill, soles_mm=soles_mm, soles_sd_mm=SOLES_BY_RULER_SD_MM)


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """Settings of the judgement.

    Attributes
    ----------
    max_contact_risk
        Largest probability of touching the top tube with which a bicycle is still recommended.
        0.025 is a guard band of the expanded uncertainty, JCGM 106:2012 8.3.2, ILAC-G8:09/2019.
    stretch
        The family wants a bicycle to grow into: less than the wanted clearance is accepted,
        never contact.
    good_band_mm
        Clearance above the minimum that is called good; beyond it the bicycle is roomy.
    max_outgrown_risk
        Largest probability of being outgrown already with which a bicycle is still recommended.
        Being outgrown is no hazard, so it may be larger than ``max_contact_risk`` (common
        practice, no source).
    min_room_mm
        Inseam that must be left to grow. Half a year of a child's growth: the growth tables give
        33 to 39 mm of inseam a year from three to ten years.
    sure_from
        Share of probability on one side of the decision from which it is called sure.
    """

    max_contact_risk: float = 0.025
    stretch: bool = False
    good_band_mm: float = GOOD_BAND_MM
    max_outgrown_risk: float = 0.2
    min_room_mm: float = 17.0
    sure_from: float = 0.8

    def __post_init__(self) -> None:
        if not 0 < self.max_contact_risk < 0.5:
            raise ValueError(
                f"max_contact_risk: wanted above 0, below 0.5, found {self.max_contact_risk}"
            )
        if not (math.isfinite(self.good_band_mm) and self.good_band_mm >= 0):
            raise ValueError(f"good_band_mm: wanted 0 or more, found {self.good_band_mm}")
        if not 0 < self.max_outgrown_risk <= 0.5:
            raise ValueError(
                f"max_outgrown_risk: wanted above 0, at most 0.5, found {self.max_outgrown_risk}"
            )
        if not (math.isfinite(self.min_room_mm) and self.min_room_mm >= 0):
            raise ValueError(f"min_room_mm: wanted 0 or more, found {self.min_room_mm}")
        if not 0.5 <= self.sure_from < 1:
            raise ValueError(f"sure_from: wanted 0.5 to below 1, found {self.sure_from}")

    @property
    def guard_factor(self) -> float:
        """Standard uncertainties to stay off the top tube for ``max_contact_risk``, 1.96 for 0.025."""
        return NormalDist().inv_cdf(1 - self.max_contact_risk)

    def wanted_clearance_mm(self, rider: Rider) -> float:
        """Least clearance wanted over the top tube; 0 where the family stretches."""
        return 0.0 if self.stretch else MIN_CLEARANCE_MM[rider.skill]
