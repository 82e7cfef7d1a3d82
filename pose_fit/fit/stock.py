"""The bicycles to judge and how, and the rider they are judged for, from what was typed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.errors import InputError
from pose_fit.fit.judge import Fit, judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.inseam.inseam import Inseam
from pose_fit.task.facts import RIDER, FactError

__all__ = ["Stock", "rider_of"]


@dataclass(frozen=True, slots=True)
class Stock:
    """A catalogue under one policy; without bicycles only the inseam is wanted."""

    bicycles: tuple[Bicycle, ...] = ()
    policy: Policy = field(default_factory=Policy)

    def __bool__(self) -> bool:
        return bool(self.bicycles)

    def __hash__(self) -> int:
        return hash((len(self.bicycles), self.policy))

    def judged(self, inseam: Inseam, rider: Rider) -> tuple[Fit, ...]:
        """Every bicycle for one child."""
        return judge(inseam, self.bicycles, rider=rider, policy=self.policy)


def rider_of(typed: Mapping[str, str]) -> Rider:
    """The rider, in usual shoes where nobody measured the soles; those of the photo never count.

    Raises
    ------
    FactError
        A text that cannot be read, or soles that no shoe has.
    """
    values: dict[str, Any] = {
        fact.field: fact.read(typed[fact.name]) for fact in RIDER if fact.name in typed
    }
    try:
        return Rider.wearing(values.pop("soles_mm", None), **values)
    except InputError as fault:
        raise FactError("riding_soles", str(fault)) from fault
