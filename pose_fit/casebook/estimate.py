"""What a case's photos give together on a day, what the pairs correct, and the pair it makes."""

import datetime as dt
from collections.abc import Sequence

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.case import Case, CaseContent, Estimate, PhotoRecord
from pose_fit.casebook.clue import RemarkClue
from pose_fit.errors import PersonError
from pose_fit.growth.age import AgeRange, age_range, shifted_age
from pose_fit.growth.inseam_on_day import GROWTH_SOURCE, inseam_on
from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.pairs.correction import NO_CORRECTION, Correction
from pose_fit.pairs.pair import Pair

__all__ = ["corrected_estimate", "estimate_of", "pair_of", "photos_inseam", "photos_in_force"]


def estimate_of(inseams: Sequence[Inseam]) -> Inseam | None:
    """One inseam from all; None from none."""
    if len(inseams) > 1:
        return combine_inseams(inseams).inseam
    return inseams[0] if inseams else None


def photos_in_force(content: CaseContent) -> tuple[PhotoRecord, ...]:
    """Photos that gave an inseam and were not replaced by a later one."""
    return tuple(
        photo
        for photo in content.photos
        if isinstance(photo.result, Inseam) and not photo.set_aside
    )


def photos_inseam(
    case: Case, *, on: dt.date | None, correction: Correction = NO_CORRECTION
) -> Inseam | None:
    """What the photos in force give together, grown to a day; None where they give nothing.

    Without a day each photo stands for the day on which it was taken.
    """
    received_on = case.received_at.date()
    grown = []
    for photo in photos_in_force(case.content):
        assert isinstance(photo.result, Inseam)
        inseam = correction.applied_to(photo.result)
        day = min(photo.taken_on or received_on, received_on)
        ages = _ages(case.content.child, stated_on=received_on, on=day)
        sex = case.content.child.sex
        if on is not None and on > day:
            inseam = inseam_on(inseam, measured_on=day, on=on, age_range_y=ages, sex=sex)
        grown.append(inseam)
    return estimate_of(grown)


def corrected_estimate(case: Case, correction: Correction) -> Estimate:
    """The case's estimate with its photos corrected; the same object where nothing is.

    Photos and clues are combined anew, each photo corrected; grown to the day the case came where
    the estimate that was sent in is.
    """
    estimate = case.content.estimate
    if not correction.pairs:
        return estimate
    is_grown = isinstance(estimate, Inseam) and any(
        line.source == GROWTH_SOURCE for line in estimate.length.budget
    )
    on = case.received_at.date() if is_grown else None
    photos = photos_inseam(case, on=on, correction=correction)
    if photos is None:
        return case.content.estimate
    clues = [clue.inseam for clue in case.content.clues if not isinstance(clue, RemarkClue)]
    return estimate_of([photos, *clues]) or case.content.estimate


def pair_of(case: Case) -> Pair | None:
    """The pair that a case's photos and the tape in the shop make.

    None where one of the two is missing, or the tape was taken before the photo.
    """
    tape = case.content.shop_tape
    photos = photos_in_force(case.content)
    if tape is None or not photos:
        return None
    days = [photo.taken_on or case.received_at.date() for photo in photos]
    # A day is local, the moment a case came is not: the two may lie a day apart.
    if tape.day < min(*days, case.received_at.date()) - dt.timedelta(days=1):
        return None
    photo = photos_inseam(case, on=tape.day)
    assert photo is not None
    kinds = {photo.reference or photo.task.reference.kind for photo in photos}
    legwear = {photo.task.stated.legwear for photo in photos}
    return Pair(
        name=f"case {case.case_id}",
        photo=photo,
        readings_mm=tape.readings_mm,
        care=tape.care,
        taken_by=tape.taken_by,
        day=tape.day,
        reference=kinds.pop() if len(kinds) == 1 else None,
        legwear=legwear.pop() if len(legwear) == 1 else None,
        touched=tape.touched,
        shop=tape.shop,
    )


def _ages(child: Child, *, stated_on: dt.date, on: dt.date) -> AgeRange | None:
    if child.age_y is None:
        return None
    try:
        return shifted_age(age_range(child.age_y), stated_on=stated_on, on=on)
    except PersonError:
        # Younger on that day than the tables know.
        return None
