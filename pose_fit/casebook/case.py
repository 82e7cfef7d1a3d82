"""A case as its readers see it: what was sent in, and where it stands."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Final, Literal, get_args

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.clue import Clue, RemarkClue, StatedClue
from pose_fit.casebook.codes import whole_code
from pose_fit.casebook.decision import Accepted, Decision, Overridden, PhotoAsked
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.casebook.typed_text import LABEL_LENGTH, clean_text
from pose_fit.inseam.inseam import Inseam
from pose_fit.reference.reference import ReferenceKind
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask

__all__ = [
    "STATES",
    "Case",
    "CaseContent",
    "CaseState",
    "Estimate",
    "FamilyLanguage",
    "PhotoRecord",
    "PicturePoint",
]

FamilyLanguage = Literal["en", "es"]
CaseState = Literal["waiting", "photo_asked", "accepted", "overridden"]
STATES: Final[tuple[CaseState, ...]] = get_args(CaseState)

#: A photo that could not be measured is sent in as well: a person may see what to do.
Estimate = Inseam | Refusal


@dataclass(frozen=True, slots=True)
class PicturePoint:
    """A named point: landmark, corner of the reference, crotch; pixels of the upright picture."""

    name: str
    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoRecord:
    """One photo of a case: what can be told without its pixels, what was asked, what it gave.

    With the kept picture it can be measured again as the family measured it.

    Attributes
    ----------
    width_px, height_px
        Size of the upright picture, in whose pixels ``points`` are; a stored picture may be
        smaller.
    focal_35mm, reshaped, taken_on
        As in :class:`pose_fit.photo.photo.Photo`.
    task
        The object of known size, what was stated of the photo, and the child.
    result
        The inseam this photo alone gave, or why it gave none.
    reference
        The object it was measured by, which the task may have left open; None of a refusal.
    points
        Joints as they were found.
    set_aside
        A later photo took its place: the estimate no longer rests on it.
    """

    width_px: int
    height_px: int
    focal_35mm: float | None = None
    reshaped: bool = False
    taken_on: dt.date | None = None
    task: PhotoTask
    result: Estimate
    reference: ReferenceKind | None = None
    points: tuple[PicturePoint, ...] = ()
    set_aside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseContent:
    """What a case holds besides its number and dates.

    Attributes
    ----------
    label
        Whatever the family typed to find it again; may be empty.
    child
        Age, sex and stature where given.
    estimate
        The inseam as last measured, or why the photo could not be measured.
    clues
        What else is known.
    photos
        Every photo sent for this case, in the order they came.
    needed_on
        Day for which the bicycle is wanted (a gift), or None for now.
    shop_tape
        What the tape said when the child stood in the shop; None where it did not yet.
    language
        In which the family reads: its letters and its fit card speak it.
    child_code
        By which the family lets its child's cases be joined; empty where it does not.
    decision
        What staff decided on this estimate; None while it waits.
    """

    estimate: Estimate
    label: str = ""
    child: Child = field(default_factory=Child)
    clues: tuple[Clue, ...] = ()
    photos: tuple[PhotoRecord, ...] = ()
    needed_on: dt.date | None = None
    shop_tape: ShopTape | None = None
    language: FamilyLanguage = "en"
    child_code: str = ""
    decision: Decision | None = None

    def __post_init__(self) -> None:
        label = clean_text(self.label, what="label", longest=LABEL_LENGTH)
        object.__setattr__(self, "label", label)
        object.__setattr__(self, "child_code", whole_code(self.child_code))

    @property
    def state(self) -> CaseState:
        """Where the case stands."""
        match self.decision.verdict if self.decision else None:
            case None:
                return "waiting"
            case PhotoAsked():
                return "photo_asked"
            case Accepted():
                return "accepted"
            case Overridden():
                return "overridden"

    @property
    def answer(self) -> Inseam | None:
        """The inseam that staff stand by; None until they do."""
        match self.decision.verdict if self.decision else None:
            case Accepted(inseam=Inseam() as corrected):
                return corrected
            case Accepted() if isinstance(self.estimate, Inseam):
                return self.estimate
            case Overridden() as verdict:
                return verdict.inseam
            case _:
                return None

    @property
    def words(self) -> tuple[str, ...]:
        """Everything in it that a free-text search looks through."""
        told = [clue.text for clue in self.clues if isinstance(clue, RemarkClue)]
        told += [clue.source for clue in self.clues if isinstance(clue, StatedClue)]
        if self.shop_tape:
            told += [self.shop_tape.taken_by, self.shop_tape.bicycle]
        if self.decision:
            told += [self.decision.by, self.decision.words]
        return (self.label, *told)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One version of one case.

    Attributes
    ----------
    case_id
        Number for people; never given twice.
    reply_code
        What the family quotes when it sends another photo; cannot be guessed.
    version
        Counts the changes, from 1.
    received_at, changed_at
        First sent in, and last changed; with time zone.
    waiting_since
        Since when it has been waiting for staff, or last was.
    pictures
        Places in ``content.photos`` of those whose picture the book keeps.
    """

    case_id: int
    reply_code: str
    version: int
    content: CaseContent
    received_at: dt.datetime
    changed_at: dt.datetime
    waiting_since: dt.datetime
    pictures: tuple[int, ...] = ()

    @property
    def state(self) -> CaseState:
        """Where the case stands."""
        return self.content.state
