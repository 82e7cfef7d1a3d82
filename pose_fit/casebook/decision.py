"""What a member of staff decides on a case."""

import datetime as dt
from dataclasses import dataclass

from pose_fit.casebook.typed_text import NAME_LENGTH, NOTE_LENGTH, clean_text, needed_text
from pose_fit.inseam.inseam import Inseam

__all__ = ["Accepted", "Decision", "Overridden", "PhotoAsked", "Verdict"]


@dataclass(frozen=True, slots=True)
class Accepted:
    """The estimate stands: as it was sent in, or with the correction that staff saw.

    ``inseam`` is the corrected one, whose warnings say which correction it is; None without.
    """

    note: str = ""
    inseam: Inseam | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "note", clean_text(self.note, what="note", longest=NOTE_LENGTH))


@dataclass(frozen=True, slots=True)
class PhotoAsked:
    """The family is asked for another photo, with this text."""

    message: str

    def __post_init__(self) -> None:
        message = needed_text(self.message, what="message", longest=NOTE_LENGTH)
        object.__setattr__(self, "message", message)


@dataclass(frozen=True, slots=True)
class Overridden:
    """Another inseam in place of the estimate, and why.

    Raises
    ------
    PersonError
        The inseam is none, or its standard uncertainty is not above 0 mm.
    CaseBookError
        There is no reason.
    """

    inseam_mm: float
    sd_mm: float
    reason: str

    def __post_init__(self) -> None:
        Inseam.stated(self.inseam_mm, self.sd_mm)
        reason = needed_text(self.reason, what="reason", longest=NOTE_LENGTH)
        object.__setattr__(self, "reason", reason)

    @property
    def inseam(self) -> Inseam:
        """The inseam that was put in place of the estimate."""
        return Inseam.stated(self.inseam_mm, self.sd_mm)


Verdict = Accepted | PhotoAsked | Overridden


@dataclass(frozen=True, slots=True)
class Decision:
    """A verdict, the name of who gave it, and when (with time zone)."""

    verdict: Verdict
    by: str
    at: dt.datetime

    def __post_init__(self) -> None:
        object.__setattr__(self, "by", needed_text(self.by, what="name", longest=NAME_LENGTH))

    @property
    def words(self) -> str:
        """What was written with it: note, message or reason."""
        match self.verdict:
            case Accepted(note=note):
                return note
            case PhotoAsked(message):
                return message
            case Overridden(reason=reason):
                return reason
