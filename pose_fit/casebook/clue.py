"""What else is known of the legs besides the photo: what was told, and the inseam it gave."""

from dataclasses import dataclass

from pose_fit.casebook.typed_text import NOTE_LENGTH, clean_text, needed_text
from pose_fit.errors import CaseBookError
from pose_fit.fit.lift import Lifted
from pose_fit.inseam.from_tape import Care
from pose_fit.inseam.inseam import Inseam

__all__ = ["Clue", "LiftClue", "RemarkClue", "StatedClue", "TapeClue", "TrousersClue"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeClue:
    """Readings of a tape, millimetres, in the order taken."""

    readings_mm: tuple[float, ...]
    care: Care
    inseam: Inseam

    def __post_init__(self) -> None:
        if not self.readings_mm:
            raise CaseBookError("tape: wanted at least one reading, found none")


@dataclass(frozen=True, slots=True, kw_only=True)
class TrousersClue:
    """Inside seam of trousers that fit; the hem's height is None where nobody looked."""

    inside_seam_mm: float
    hem_above_floor_mm: float | None
    inseam: Inseam


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftClue:
    """The bicycle the child has: how far it comes up until the bar touches."""

    standover_mm: float
    lift_mm: float
    lifted: Lifted
    tyre_marking: str = ""
    inseam: Inseam

    def __post_init__(self) -> None:
        marking = clean_text(self.tyre_marking, what="tyre marking", longest=100)
        object.__setattr__(self, "tyre_marking", marking)


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedClue:
    """An inseam from anywhere else, and where it comes from."""

    source: str
    inseam: Inseam

    def __post_init__(self) -> None:
        source = needed_text(self.source, what="source of the clue", longest=NOTE_LENGTH)
        object.__setattr__(self, "source", source)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemarkClue:
    """Something worth knowing that gives no length."""

    text: str

    def __post_init__(self) -> None:
        text = needed_text(self.text, what="remark", longest=NOTE_LENGTH)
        object.__setattr__(self, "text", text)


Clue = TapeClue | TrousersClue | LiftClue | StatedClue | RemarkClue
