"""Everything that is known of the child on the parent's page: pictures, tape, trousers, together."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.heels_matter import with_heels_where_they_matter
from pose_fit.app.inputs.catalogue_form import catalogue_of
from pose_fit.app.inputs.child_form import (
    child_of,
    policy_of,
    rider_of,
    uses_child,
)
from pose_fit.app.inputs.clues_form import trousers_of
from pose_fit.app.inputs.one_child import is_one_child
from pose_fit.app.inputs.reference_form import (
    has_no_object,
    object_of,
)
from pose_fit.app.inputs.tape_form import tape_of, tape_questions_of
from pose_fit.app.measuring import Outcome, measure_shots, together
from pose_fit.app.session import Shot, said_of
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.progress_view import Progress
from pose_fit.casebook.clue import Clue
from pose_fit.fit.choice import Choice, choose
from pose_fit.fit.judge import Fit, judge
from pose_fit.growth.dated_readings import Dated
from pose_fit.inseam.combine import Combination, combine_inseams
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal
from pose_fit.report.answer import how_sure_of
from pose_fit.report.contradiction import contradiction as contradicted

__all__ = ["Known", "advice_and_word", "know", "weighed"]


@dataclass(frozen=True, slots=True)
class Known:
    """Everything the page knows: what the pictures gave, further clues, and all of it together."""

    outcomes: tuple[Outcome, ...]
    child: Child
    clues: tuple[Clue, ...]
    contradiction: Refusal | None
    readings: Mapping[str, Inseam]
    all_ways: Combination | None
    inseam: Inseam | None
    against: tuple[Notice, ...]


def know(page: str, pictures: Sequence[Shot], progress: Progress) -> Known:
    """Measure the pictures, and weigh them with the other clues."""
    child = next((told for shot in pictures if (told := said_of(shot).child)), child_of(page))
    outcomes = measure_shots(
        pictures,
        object_of(page),
        child,
        progress=progress,
        use_child=uses_child(page),
    )
    outcomes = with_heels_where_they_matter(outcomes, partial(_advice, page))
    return weighed(page, outcomes, child)


def weighed(page: str, outcomes: tuple[Outcome, ...], child: Child) -> Known:
    """Pictures and clues together."""
    say = in_language(FAMILY)
    readings: dict[str, Inseam] = {}
    by_photo = together(outcomes, is_one_child=is_one_child(page, outcomes))
    if isinstance(by_photo, Dated):
        by_photo = by_photo.carried_to(dt.date.today())
    contradiction = by_photo if isinstance(by_photo, Refusal) else None
    if isinstance(by_photo, Dated):
        readings[say.picture] = by_photo.inseam
    clues: list[Clue] = []
    for name, clue in ((say.tape_title, tape_of(page)), (say.trousers, trousers_of(page))):
        if clue is not None:
            readings[name] = clue.inseam
            clues.append(clue)
    if not readings and has_no_object(page) and child.stature_mm is not None:
        readings[say.stature] = inseam_from_stature(child.stature_mm, sex=child.sex)
    all_ways = combine_inseams(list(readings.values())) if len(readings) > 1 else None
    inseam = all_ways.inseam if all_ways is not None else next(iter(readings.values()), None)
    against: tuple[Notice, ...] = ()
    if inseam is not None:
        why = contradicted(inseam.with_warnings(*tape_questions_of(page, child)), child)
        against = why.reasons if why is not None else ()
    return Known(outcomes, child, tuple(clues), contradiction, readings, all_ways, inseam, against)


def _chosen(page: str, inseam: Inseam) -> Fit | None:
    """The bicycle that the page would name; None where none fits."""
    fits = judge(inseam, catalogue_of(page), rider=rider_of(page), policy=policy_of(page))
    choice = choose(fits) if fits else None
    return choice.best if isinstance(choice, Choice) else None


def _advice(page: str, inseam: Inseam) -> object:
    """The bicycle and the word that stands on it, to be compared; None where none fits."""
    best = _chosen(page, inseam)
    return None if best is None else (best.bicycle.name, best.shown)


def advice_and_word(page: str, inseam: Inseam) -> object:
    """The bicycle that the page would name, its word and how sure: what would change one is asked."""
    best = _chosen(page, inseam)
    return None if best is None else (best.bicycle.name, best.shown, how_sure_of(best))
