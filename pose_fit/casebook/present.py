"""A case that is a present: the inseam on its day, and which bicycle comes first then."""

import datetime as dt
from collections.abc import Sequence

from pose_fit.casebook.case import Case
from pose_fit.fit.choice import Order, rank
from pose_fit.fit.judge import Fit
from pose_fit.fit.robust import order_of_presents
from pose_fit.growth.age import ages_of
from pose_fit.growth.inseam_on_day import inseam_on
from pose_fit.inseam.inseam import Inseam

__all__ = ["inseam_wanted", "order_of", "present_day"]


def present_day(case: Case) -> dt.date | None:
    """The day of the present, not before the case came; None where it is no present."""
    needed_on = case.content.needed_on
    return None if needed_on is None else max(needed_on, case.received_at.date())


def inseam_wanted(case: Case, inseam: Inseam) -> Inseam:
    """The inseam on the day of the present; the same object where the bicycle is for now.

    Raises
    ------
    PersonError
        The growth tables say nothing of these legs; see :func:`inseam_on`.
    """
    on, child = present_day(case), case.content.child
    if on is None:
        return inseam
    return inseam_on(
        inseam,
        measured_on=case.received_at.date(),
        on=on,
        age_range_y=ages_of(child),
        sex=child.sex,
    )


def order_of(case: Case, fits: Sequence[Fit]) -> Order:
    """Which bicycle comes first: for a present as on the gift page, else as for a child who is there."""
    on, age_y = present_day(case), case.content.child.age_y
    if on is None:
        return rank
    years = (on - case.received_at.date()).days / 365.25
    return order_of_presents(fits, age_y=None if age_y is None else age_y + years)
