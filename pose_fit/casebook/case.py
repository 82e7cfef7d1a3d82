"""A case as its readers see it: what was sent in, and where it stands."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Final, Literal, get_args

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.clue import Clue, RemarkClue, StatedClue
from pose_fit.casebook.decision import Accepted, Decision, Overridden, PhotoAsked
from pose_fit.casebook.typed_text import LABEL_LENGTH, clean_text
from pose_fit.inseam.inseam import Inseam
from pose_fit.reference.reference import Placement, ReferenceKind
from pose_fit.refusal import Refusal
from pose_fit.task.legwear import Legwear

__all__ = [
    "STATES",
    "Case",
    "CaseContent",
    "CaseState",
    "Estimate",
    "PhotoRecord",
    "PicturePoint",
]

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
    """What a photo was measured with, so that it can be measured again without the file.

    Attributes
    ----------
    width_px, height_px
        Size of the upright picture, in whose pixels ``points`` are; a stored picture may be
        smaller.
    focal_35mm, reshaped, taken_on
        As in :class:`pose_fit.photo.photo.Photo`.
    reference, size_mm, ruler_mm, placement
        As in :class:`pose_fit.reference.find_reference.ReferenceRequest`.
    tyre_width_mm
        Width of a wheel's tyre, which is its ``width_mm``; None for anything else.
    soles_mm
        Soles worn in the photo, 0 barefoot; None where nobody said.
    legwear
        What the child wore on the legs; None where nobody said.
    heels_down
        Whether somebody said that both heels were on the floor.
    points
        What was found or clicked.
    """

    width_px: int
    height_px: int
    focal_35mm: float | None = None
    reshaped: bool = False
    taken_on: dt.date | None = None
    reference: ReferenceKind
    size_mm: float | None = None
    ruler_mm: float | None = None
    placement: Placement = "wall"
    tyre_width_mm: float | None = None
    soles_mm: float | None = None
    legwear: Legwear | None = None
    heels_down: bool = False
    points: tuple[PicturePoint, ...] = ()


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
    photo
        What the photo was measured with; None where there was none.
    needed_on
        Day for which the bicycle is wanted (a gift), or None for now.
    decision
        What staff decided on this estimate; None while it waits.
    """

    estimate: Estimate
    label: str = ""
    child: Child = field(default_factory=Child)
    clues: tuple[Clue, ...] = ()
    photo: PhotoRecord | None = None
    needed_on: dt.date | None = None
    decision: Decision | None = None

    def __post_init__(self) -> None:
        label = clean_text(self.label, what="label", longest=LABEL_LENGTH)
        object.__setattr__(self, "label", label)

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
    has_picture
        Whether the book keeps a picture of it.
    """

    case_id: int
    reply_code: str
    version: int
    content: CaseContent
    received_at: dt.datetime
    changed_at: dt.datetime
    waiting_since: dt.datetime
    has_picture: bool

    @property
    def state(self) -> CaseState:
        """Where the case stands."""
        return self.content.state
