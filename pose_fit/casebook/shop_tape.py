"""What the tape said when the child stood in the shop."""

import datetime as dt
from dataclasses import dataclass

from pose_fit.casebook.typed_text import LABEL_LENGTH, NAME_LENGTH, clean_text, needed_text
from pose_fit.inseam.from_tape import Care, inseam_from_tape
from pose_fit.inseam.inseam import Inseam

__all__ = ["ShopTape"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopTape:
    """A tape taken by staff, beside what a case says by photo.

    Attributes
    ----------
    readings_mm
        In the order taken, at least one.
    care
        How the tape was held; see :data:`pose_fit.inseam.from_tape.TAPE_CARE`.
    taken_by
        Who held it.
    day
        When.
    touched
        Whether the bicycle that was tried touched the child; None where none was tried.
    bicycle
        Which bicycle that was; may be empty.
    shop
        Which branch; empty where there is one only.

    Raises
    ------
    PersonError
        No reading, or one that is no inseam.
    CaseBookError
        Nobody held the tape.
    """

    readings_mm: tuple[float, ...]
    care: Care = "careful"
    taken_by: str
    day: dt.date
    touched: bool | None = None
    bicycle: str = ""
    shop: str = ""

    def __post_init__(self) -> None:
        inseam_from_tape(self.readings_mm, care=self.care)
        taken_by = needed_text(self.taken_by, what="who held the tape", longest=NAME_LENGTH)
        object.__setattr__(self, "taken_by", taken_by)
        for name in ("bicycle", "shop"):
            text = clean_text(getattr(self, name), what=name, longest=LABEL_LENGTH)
            object.__setattr__(self, name, text)

    @property
    def inseam(self) -> Inseam:
        """What the tape gives, with its own uncertainty."""
        return inseam_from_tape(self.readings_mm, care=self.care)
