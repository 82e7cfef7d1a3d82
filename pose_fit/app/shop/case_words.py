"""Cases, clues and their history in plain words."""

from typing import Final

from pose_fit.app.views.estimate_view import half_width_text
from pose_fit.casebook.case import Case, CaseState
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
from pose_fit.metrology.units import both_units

__all__ = ["STATE_WORDS", "clue_words", "estimate_words", "happening_words", "title"]

STATE_WORDS: Final[dict[CaseState, str]] = {
    "waiting": "waiting",
    "photo_asked": "asked for another picture",
    "accepted": "accepted",
    "overridden": "overridden",
}


def title(case: Case) -> str:
    """Number and label."""
    return f"Case {case.case_id}" + (f", {case.content.label}" if case.content.label else "")


def estimate_words(case: Case) -> str:
    """The answer where staff gave one, else the estimate."""
    told = case.content.answer or case.content.estimate
    if isinstance(told, Inseam):
        return f"{both_units(told.mean_mm)} ± {half_width_text(told)}"
    return "not measured"


def clue_words(clue: Clue) -> tuple[str, str]:
    """What was told, and the inseam it gave."""
    if isinstance(clue, RemarkClue):
        return clue.text, ""
    value = f"{both_units(clue.inseam.mean_mm)} ± {half_width_text(clue.inseam)}"
    match clue:
        case TapeClue(readings_mm=readings_mm, care=care):
            readings = ", ".join(both_units(reading_mm) for reading_mm in readings_mm)
            return f"tape, {care}: {readings}", value
        case TrousersClue(inside_seam_mm=seam_mm):
            return f"trousers with an inside seam of {both_units(seam_mm)}", value
        case LiftClue(standover_mm=standover_mm, lift_mm=lift_mm):
            return (
                f"bicycle with a standover of {both_units(standover_mm)}, lifted"
                f" {both_units(lift_mm)}",
                value,
            )
        case StatedClue(source=source):
            return source, value


def happening_words(what: Happening) -> str:
    """One line of history."""
    match what:
        case Received():
            return "sent in"
        case PhotoReceived():
            return "sent another picture"
        case Exported(what=kind):
            return f"gave out: {kind}"
        case LandmarksAdjusted():
            return "moved points in the picture"
        case ClueAdded(clue=clue):
            return f"added a clue: {clue_words(clue)[0]}"
        case DetailsCorrected():
            return "corrected the details"
        case Accepted(note=note, inseam=inseam):
            which = "the estimate" if inseam is None else "the corrected estimate"
            return f"accepted {which}" + (f": {note}" if note else "")
        case PhotoAsked():
            return "asked for another picture"
        case Overridden(inseam_mm=inseam_mm, reason=reason):
            return f"set the inseam to {both_units(inseam_mm)}: {reason}"
        case TapeTaken(tape=tape):
            return f"took the tape in the shop: {both_units(tape.inseam.mean_mm)}"
        case ChildJoined(child_code=code):
            return "joined the child’s cases" if code else "took the case out of the child’s"
        case Reopened(reason=reason):
            return f"reopened: {reason}"
        case PictureRemoved():
            return "removed the picture"
