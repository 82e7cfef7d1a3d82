"""What can happen to a case: the history keeps each of these, with who and when."""

import datetime as dt
from dataclasses import dataclass, replace

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.case import CaseContent, Estimate, PhotoRecord
from pose_fit.casebook.clue import Clue
from pose_fit.casebook.decision import Accepted, Decision, Overridden, PhotoAsked
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.casebook.typed_text import LABEL_LENGTH, NOTE_LENGTH, clean_text, needed_text
from pose_fit.errors import CaseBookError
from pose_fit.refusal import Refusal

__all__ = [
    "Action",
    "CaseEvent",
    "ChildJoined",
    "ClueAdded",
    "DetailsCorrected",
    "Draft",
    "Exported",
    "Happening",
    "LandmarksAdjusted",
    "PhotoReceived",
    "PictureRemoved",
    "Received",
    "Reopened",
    "TapeTaken",
    "after",
]


@dataclass(frozen=True, slots=True)
class Received:
    """Sent in, with this first estimate."""

    estimate: Estimate


@dataclass(frozen=True, slots=True)
class PhotoReceived:
    """The family sent other photos, or other clues, with this estimate."""

    estimate: Estimate
    photos: tuple[PhotoRecord, ...] = ()


@dataclass(frozen=True, slots=True)
class LandmarksAdjusted:
    """Points in a picture were moved or its task put right, and the estimate that follows.

    ``place`` is the photo's in the case.
    """

    estimate: Estimate
    photo: PhotoRecord
    place: int = 0


@dataclass(frozen=True, slots=True)
class ClueAdded:
    """Something else became known, and the estimate with it, changed or not."""

    clue: Clue
    estimate: Estimate


@dataclass(frozen=True, slots=True)
class DetailsCorrected:
    """Label, child or wanted day were put right."""

    label: str
    child: Child
    needed_on: dt.date | None = None

    def __post_init__(self) -> None:
        label = clean_text(self.label, what="label", longest=LABEL_LENGTH)
        object.__setattr__(self, "label", label)


@dataclass(frozen=True, slots=True)
class TapeTaken:
    """The child stood in the shop and was measured by tape; the estimate is not touched by it."""

    tape: ShopTape


@dataclass(frozen=True, slots=True)
class ChildJoined:
    """The family lets this case be joined with others of the same child, or no longer.

    ``child_code`` is the child's, empty where the case stands alone again.
    """

    child_code: str


@dataclass(frozen=True, slots=True)
class Reopened:
    """The decision was withdrawn, and why; the case waits again."""

    reason: str

    def __post_init__(self) -> None:
        reason = needed_text(self.reason, what="reason", longest=NOTE_LENGTH)
        object.__setattr__(self, "reason", reason)


@dataclass(frozen=True, slots=True)
class PictureRemoved:
    """The picture at this place was thrown away, or all of them; the numbers stay."""

    place: int | None = None


@dataclass(frozen=True, slots=True)
class Exported:
    """Given out of the book: what as ("table", "fit card")."""

    what: str

    def __post_init__(self) -> None:
        what = needed_text(self.what, what="kind of export", longest=100)
        object.__setattr__(self, "what", what)


#: What a member of staff does to a case.
Action = (
    LandmarksAdjusted
    | ClueAdded
    | DetailsCorrected
    | TapeTaken
    | ChildJoined
    | Accepted
    | PhotoAsked
    | Overridden
    | Reopened
    | PictureRemoved
)
Happening = Received | PhotoReceived | Exported | Action


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseEvent:
    """One line of a case's history.

    ``version`` is the version of the case after it; giving out does not make a new one.
    """

    case_id: int
    version: int
    at: dt.datetime
    by: str
    what: Happening


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """What somebody meant to do to a case, seen at version ``based_on``, and has not done yet."""

    case_id: int
    based_on: int
    by: str
    kept_at: dt.datetime
    action: Action


def after(
    content: CaseContent, action: Action | PhotoReceived, *, by: str, at: dt.datetime
) -> CaseContent:
    """The content after somebody did something to it.

    A decision stands on an estimate: where the estimate changes, the case waits again.

    Raises
    ------
    CaseBookError
        It makes no sense here: accepting a photo that was refused, reopening what is open.
    """
    match action:
        case LandmarksAdjusted(estimate, photo, place):
            photos = list(content.photos)
            if not 0 <= place < len(photos):
                raise CaseBookError(
                    f"photo: wanted a place below {len(photos)} in the case, found {place}"
                )
            photos[place] = photo
            return replace(content, estimate=estimate, photos=tuple(photos), decision=None)
        case PhotoReceived(estimate, photos=added):
            earlier = tuple(replace(photo, set_aside=True) for photo in content.photos)
            photos_now = earlier + added if added else content.photos
            return replace(content, estimate=estimate, photos=photos_now, decision=None)
        case ClueAdded(clue, estimate):
            decision = content.decision if estimate == content.estimate else None
            clues = (*content.clues, clue)
            return replace(content, clues=clues, estimate=estimate, decision=decision)
        case DetailsCorrected(label, child, needed_on):
            return replace(content, label=label, child=child, needed_on=needed_on)
        case Accepted() | PhotoAsked() | Overridden():
            if isinstance(action, Accepted) and isinstance(content.estimate, Refusal):
                raise CaseBookError(
                    f"accept: wanted an estimate, found a photo that was refused"
                    f" ({content.estimate})"
                )
            return replace(content, decision=Decision(action, by, at))
        case TapeTaken(tape):
            return replace(content, shop_tape=tape)
        case ChildJoined(child_code):
            return replace(content, child_code=child_code)
        case Reopened():
            if content.decision is None:
                raise CaseBookError("reopen: wanted a decided case, found one that is waiting")
            return replace(content, decision=None)
        case PictureRemoved():
            return content
