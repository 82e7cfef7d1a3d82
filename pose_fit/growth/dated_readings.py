"""Readings of other days: an old picture shows the legs of then, and the advice is for today."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from scipy.special import chdtrc

from pose_fit.anthropometry.child import Child
from pose_fit.body.looks import PersonLooks, are_unlike
from pose_fit.errors import InputError, PersonError
from pose_fit.growth.age import ages_of
from pose_fit.growth.inseam_on_day import inseam_on, months_between
from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import DAYS_PER_YEAR, both_units
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.stated import Stated

__all__ = ["Dated", "check_past", "child_on", "combined", "picture_day"]

#: Growth within two months is smaller than what a good photo leaves unsure (a child of school age
#: gains about 3 mm of inseam a month at most), so it is counted but not spoken of.
QUIET_MONTHS: Final = 2.0
#: Forecasts reach no further.
MOST_MONTHS: Final = 36.0
#: Chances below which readings of one child contradict each other: by what each states as its own,
#: and with nothing taken for shared. Photos of one child differ by more than they state as their
#: own (calibration/results/report.md), so the first alone would often cry wolf.
CONTRADICTION_P: Final = 0.005
CONTRADICTION_P_ALONE: Final = 0.02
#: A body's proportions are compared over at most these months: children grow longer legs.
SAME_BODY_MONTHS: Final = 12.0
#: Ages are told in whole years, now and then a birthday late.
AGE_ROUNDED_Y: Final = 1.25
_UNKNOWN_CHILD: Final = Child()


def picture_day(
    photo: Photo, stated: Stated, *, today: dt.date
) -> tuple[dt.date, tuple[Notice, ...]]:
    """The day the photo was taken, as stated, or as its file says, or else today.

    Raises
    ------
    InputError
        The stated day is still to come.
    """
    if stated.taken_on is not None:
        check_past("taken", stated.taken_on, today=today)
        return stated.taken_on, ()
    if photo.taken_on is None or photo.taken_on <= today:
        return photo.taken_on or today, ()
    return today, (
        Notice(
            "picture_day_to_come",
            f"By its file the picture was taken on {photo.taken_on}, which is still to come: it"
            " is taken for one of today.",
        ),
    )


def check_past(name: str, day: dt.date, *, today: dt.date) -> None:
    """Raise :class:`InputError` for a stated day that is still to come."""
    if day > today:
        raise InputError(f"{name}: wanted a day up to {today}, found {day}, which is to come")


def child_on(child: Child, *, stated_on: dt.date, on: dt.date) -> Child:
    """The same child on another day: older or younger; its height of then is not known.

    A child outside the tables on that day has no age there.
    """
    years = (on - stated_on).days / DAYS_PER_YEAR
    is_near = abs(years) * 12 < QUIET_MONTHS
    kept = Child(sex=child.sex, stature_mm=child.stature_mm if is_near else None)
    if child.age_y is None:
        return kept
    try:
        return replace(kept, age_y=child.age_y + years)
    except PersonError:
        return kept


@dataclass(frozen=True, slots=True)
class Dated:
    """An inseam, the day it was measured on, and the child as it was on that day.

    ``looks`` is what the child looks like in the picture; None where there is no picture.
    """

    inseam: Inseam
    on: dt.date
    child: Child = _UNKNOWN_CHILD
    looks: PersonLooks | None = None

    def carried_to(self, day: dt.date) -> "Dated | Refusal":
        """The same child's inseam on a later day, with growth in its budget.

        Raises
        ------
        PersonError
            The day lies before the measurement.
        """
        months = months_between(self.on, day)
        if months == 0:
            return self
        if months > MOST_MONTHS:
            return _too_old(self, months)
        ages = ages_of(self.child)
        try:
            grown = inseam_on(
                self.inseam,
                measured_on=self.on,
                on=day,
                age_range_y=ages,
                sex=self.child.sex,
            )
        except PersonError:
            return _too_old(self, months)
        if months >= QUIET_MONTHS:
            grown = grown.with_warnings(_grown_since(self, months, is_age_known=ages is not None))
        return Dated(grown, day, child_on(self.child, stated_on=self.on, on=day))


def combined(readings: Sequence[Dated], *, is_one_child: bool = True) -> Dated | Refusal:
    """Readings of one child as one, on the latest of their days.

    A refusal where one is too old to be carried to that day, or where they contradict each other
    beyond chance: two separate answers are a question, not an average. Pictures of people who look
    unlike are a question too, until somebody says ``is_one_child``; then it is told.
    """
    doubt = _doubt_of_one_child(readings)
    if doubt is not None and not is_one_child:
        return Refusal(
            (doubt,), ("Leave out the picture of the other child.",), asks=("same_child",)
        )
    day = max(reading.on for reading in readings)
    carried: list[Dated] = []
    for reading in readings:
        later = reading.carried_to(day)
        if isinstance(later, Refusal):
            return later
        carried.append(later)
    if len(carried) == 1:
        return carried[0]
    told = () if doubt is None else (doubt,)
    combination = combine_inseams([reading.inseam for reading in carried])
    if combination.p_value < CONTRADICTION_P and _p_alone(carried) < CONTRADICTION_P_ALONE:
        return _contradiction(carried)
    latest = next(reading.child for reading in readings if reading.on == day)
    return Dated(combination.inseam.with_warnings(*told), day, latest)


def _doubt_of_one_child(readings: Sequence[Dated]) -> Notice | None:
    """What says that the pictures show two children; None where nothing does."""
    sexes = {reading.child.sex for reading in readings if reading.child.sex is not None}
    if len(sexes) > 1 or _are_ages_apart(readings):
        return Notice(
            "children_unlike",
            "What is said of the child differs between the pictures. Do all show the same child?",
        )
    for place, one in enumerate(readings):
        for other in readings[place + 1 :]:
            if one.looks is None or other.looks is None:
                continue
            months = abs(months_between(min(one.on, other.on), max(one.on, other.on)))
            if months <= SAME_BODY_MONTHS and are_unlike(
                one.looks, other.looks, on_one_day=one.on == other.on
            ):
                return Notice(
                    "children_unlike",
                    "The children in the pictures do not look alike. Do all show the same child?",
                )
    return None


def _are_ages_apart(readings: Sequence[Dated]) -> bool:
    """Whether the stated ages give birthdays further apart than rounding explains."""
    births = [
        reading.on.toordinal() / DAYS_PER_YEAR - reading.child.age_y
        for reading in readings
        if reading.child.age_y is not None
    ]
    return bool(births) and max(births) - min(births) > AGE_ROUNDED_Y


def _p_alone(readings: Sequence[Dated]) -> float:
    """Chance of so much scatter by chi-square, were nothing shared between the readings."""
    means_mm = np.array([reading.inseam.mean_mm for reading in readings])
    sds_mm = np.array([reading.inseam.sd_mm for reading in readings])
    mean_mm = np.average(means_mm, weights=sds_mm**-2)
    return float(chdtrc(len(readings) - 1, (((means_mm - mean_mm) / sds_mm) ** 2).sum()))


def _too_old(reading: Dated, months: float) -> Refusal:
    message = (
        f"It shows the child of {reading.on}, {_span(months)} ago: too long ago to say how long"
        " the legs are today."
    )
    return Refusal.because("picture_too_old", message, "Take a new photo.", asks=("taken",))


def _grown_since(reading: Dated, months: float, *, is_age_known: bool) -> Notice:
    then = both_units(reading.inseam.mean_mm)
    how = (
        "by the usual growth at this age."
        if is_age_known
        else "by the growth of children with such legs; with the age this would be surer."
    )
    return Notice(
        "grown_since",
        f"The picture is of {reading.on}, {_span(months)} ago: the inseam was {then} then, and is"
        f" carried forward {how}",
    )


def _span(months: float) -> str:
    return f"{months:.0f} months" if months < 24 else f"{months / 12:.0f} years"


def _contradiction(readings: Sequence[Dated]) -> Refusal:
    values = " and ".join(both_units(reading.inseam.mean_mm) for reading in readings)
    return Refusal.because(
        "not_one_child",
        f"They say {values}: too far apart for one child. They are of different children,"
        " or one of them is wrong.",
        "Check that all are of the same child, and leave out the one that is wrong.",
    )
