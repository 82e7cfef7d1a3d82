"""Cases, clues and their history in plain words, in the reader's language."""

from pose_fit.app.inputs.lengths import length_parts, length_text
from pose_fit.app.texts.case_event_texts import EVENTS
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.form_texts import TAPE
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.staff_texts import LISTS
from pose_fit.casebook.case import Case
from pose_fit.casebook.clue import Clue, LiftClue, RemarkClue, StatedClue, TapeClue, TrousersClue
from pose_fit.casebook.decision import Accepted, Overridden, PhotoAsked
from pose_fit.casebook.events import (
    ChildJoined,
    ClueAdded,
    DetailsCorrected,
    Exported,
    Happening,
    LandmarksAdjusted,
    PhotoReceived,
    PictureRemoved,
    Received,
    Reopened,
    TapeTaken,
)
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

__all__ = [
    "clue_words",
    "doer",
    "estimate_words",
    "give_or_take",
    "half_text",
    "happening_words",
    "title",
]


def title(case: Case) -> str:
    """Number and label."""
    say = in_language(LISTS)
    if case.content.label:
        return say.labelled.format(number=case.case_id, label=case.content.label)
    return say.case.format(number=case.case_id)


def half_text(sd_mm: float) -> str:
    """Half of a 95 % interval, in the reader's unit."""
    return length_parts(COVERAGE_FACTOR_95 * sd_mm)[0]


def give_or_take(mean_mm: float, sd_mm: float) -> str:
    """A length and half of its 95 % interval."""
    say = in_language(CASE)
    return say.give_or_take.format(length=length_text(mean_mm), half=half_text(sd_mm))


def estimate_words(case: Case) -> str:
    """The answer where staff gave one, else the estimate."""
    told = case.content.answer or case.content.estimate
    if isinstance(told, Inseam):
        return give_or_take(told.mean_mm, told.sd_mm)
    return in_language(LISTS).not_measured


def doer(name: str) -> str:
    """Who did it: a member of staff by name, or the family."""
    return in_language(EVENTS).family if name == "family" else name


def clue_words(clue: Clue) -> tuple[str, str]:
    """What was told, and the inseam it gave."""
    if isinstance(clue, RemarkClue):
        return clue.text, ""
    say = in_language(CASE).clues
    value = give_or_take(clue.inseam.mean_mm, clue.inseam.sd_mm)
    match clue:
        case TapeClue(readings_mm=readings_mm, care=care):
            readings = ", ".join(length_text(reading_mm) for reading_mm in readings_mm)
            how = in_language(TAPE).cares[care]
            return say["tape"].format(care=how, readings=readings), value
        case TrousersClue(inside_seam_mm=seam_mm):
            return say["trousers"].format(length=length_text(seam_mm)), value
        case LiftClue(standover_mm=standover_mm, lift_mm=lift_mm):
            length, lift = length_text(standover_mm), length_text(lift_mm)
            return say["lift"].format(length=length, lift=lift), value
        case StatedClue(source=source):
            return source, value


def happening_words(what: Happening) -> str:
    """One line of history."""
    say = in_language(EVENTS)
    match what:
        case Received():
            return say.sent_in
        case PhotoReceived():
            return say.another_picture
        case Exported(what=kind):
            named = {"fit card": say.fit_card, "table": say.table}
            return say.gave_out.format(what=named.get(kind, kind))
        case LandmarksAdjusted():
            return say.moved_points
        case ClueAdded(clue=clue):
            return say.added.format(clue=clue_words(clue)[0])
        case DetailsCorrected():
            return say.corrected
        case Accepted(note=note, inseam=inseam):
            did = say.accepted if inseam is None else say.accepted_corrected
            return say.noted.format(did=did, note=note) if note else did
        case PhotoAsked():
            return say.asked
        case Overridden(inseam_mm=inseam_mm, reason=reason):
            return say.overrode.format(length=length_text(inseam_mm), reason=reason)
        case TapeTaken(tape=tape):
            return say.taped.format(length=length_text(tape.inseam.mean_mm))
        case ChildJoined(child_code=code):
            return say.joined if code else say.parted
        case Reopened(reason=reason):
            return say.reopened.format(reason=reason)
        case PictureRemoved():
            return say.removed_picture
