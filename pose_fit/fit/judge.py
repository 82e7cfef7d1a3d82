"""Judge a catalogue for one child: a :class:`Fit` for each bicycle."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.fit.feet import Feet, feet_on_ground
from pose_fit.fit.fleet import Fleet
from pose_fit.fit.inseams_of_change import thresholds
from pose_fit.fit.judged import Changes, Judged, changes_of
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.shown import Advice, Shown, advice_of
from pose_fit.fit.verdicts import VERDICTS, fitting_from_mm, judge_many
from pose_fit.inseam.inseam import Inseam

__all__ = ["Changes", "Fit", "changes_of", "judge"]


@dataclass(frozen=True, slots=True)
class Fit(Judged):
    """A judged bicycle with what to do about it, in plain words."""

    @property
    def advice(self) -> Advice:
        """The one word or phrase to show, what to do, and why."""
        return advice_of(self)

    @property
    def shown(self) -> Shown:
        """The word or phrase to show; see :func:`pose_fit.fit.shown.advice_of`."""
        return self.advice.shown

    @property
    def to_do(self) -> str:
        """What to do about this bicycle, a short phrase."""
        return self.advice.to_do

    @property
    def feet(self) -> Feet | None:
        """Whether the child reaches the ground from the lowest saddle; None where not known."""
        return feet_on_ground(self)


def judge(
    inseam: Inseam,
    bicycles: Sequence[Bicycle],
    *,
    rider: Rider | None = None,
    policy: Policy | None = None,
) -> tuple[Fit, ...]:
    """Judge every bicycle for one child, in the order given.

    ``rider`` and ``policy`` default to a sure rider in sports shoes and the guard band.

    Raises
    ------
    TypeError
        A bare number for the inseam, whose uncertainty would be unknown, or a single bicycle.
    """
    if not isinstance(inseam, Inseam):
        raise TypeError(
            f"judge: wanted an Inseam, such as inseam_from_tape([640]), found {inseam!r}"
        )
    if isinstance(bicycles, Bicycle):
        raise TypeError("judge: wanted several bicycles, found one; write [bicycle]")
    rider, policy = rider or Rider(), policy or Policy()
    changes = thresholds(Fleet.of(bicycles), rider=rider, policy=policy)
    judgement = judge_many(inseam.mean_mm, inseam.sd_mm, changes, policy=policy)
    guard_mm = policy.guard_factor * np.hypot(inseam.sd_mm, changes.contact_sd_mm)
    recommended_from_mm = np.maximum(
        changes.contact_below_mm + guard_mm,
        fitting_from_mm(inseam.sd_mm, changes, policy=policy),
    ).tolist()
    verdicts = judgement.verdict_index[0].tolist()
    probabilities = judgement.probabilities[:, 0].T.tolist()
    fitting = judgement.fitting[0].tolist()
    recommended = judgement.recommended[0].tolist()
    unsure = judgement.unsure[0].tolist()
    return tuple(
        Fit(
            bicycle=bicycle,
            inseam=inseam,
            rider=rider,
            policy=policy,
            changes=change,
            probabilities=dict(zip(VERDICTS, probabilities[place], strict=True)),
            fitting=fitting[place],
            verdict=VERDICTS[verdicts[place]],
            recommended=recommended[place],
            unsure=unsure[place],
            recommended_from_mm=recommended_from_mm[place],
        )
        for place, (bicycle, change) in enumerate(zip(bicycles, changes_of(changes), strict=True))
    )
