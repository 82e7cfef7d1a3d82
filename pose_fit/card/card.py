"""What stands on a fit card; ``pdf.py`` lays it out.

A card holds nothing that identifies the child but the label, which is what the family typed:
no age, sex or stature, no file name, no number of a case.
"""

import datetime as dt
import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, get_args

from pose_fit.card.card_texts import CARD_TEXTS, CardLanguage
from pose_fit.errors import InputError
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import Unit

__all__ = [
    "ADVICE_LENGTH",
    "BICYCLE_LENGTH",
    "LABEL_LENGTH",
    "LINE_LENGTH",
    "MEASURED_LENGTH",
    "MOST_BICYCLES",
    "WARNINGS_LENGTH",
    "CardBicycle",
    "CardDrawing",
    "FitCard",
    "Standing",
    "within",
]

#: ``try``: recommended, and sure enough. ``check``: a better measurement could turn the answer,
#: recommended or not. ``leave``: surely too big or outgrown.
Standing = Literal["try", "check", "leave"]

#: More would not fit one page in type that can be read.
MOST_BICYCLES: Final = 8
#: Most characters of a name, headline or line about the shop; of the label; of all a bicycle's
#: reasons and cautions; of all advice; of how it was measured; and of the inseam's warnings.
LINE_LENGTH: Final = 120
LABEL_LENGTH: Final = 200
BICYCLE_LENGTH: Final = 700
ADVICE_LENGTH: Final = 900
MEASURED_LENGTH: Final = 400
WARNINGS_LENGTH: Final = 700


def _one_line(text: str) -> str:
    """Blanks collapsed; controls, lone surrogates and marks that turn the writing left out."""
    return "".join(letter for letter in " ".join(text.split()) if letter.isprintable())


def _check_length(what: str, texts: tuple[str, ...], longest: int) -> None:
    found = sum(len(text) for text in texts)
    if found > longest:
        raise InputError(f"fit card, {what}: wanted at most {longest} characters, found {found}")


def within(texts: Sequence[str], longest: int) -> tuple[str, ...]:
    """The first of the texts, as many as have so many characters together."""
    totals = itertools.accumulate(len(text) for text in texts)
    return tuple(text for text, total in zip(texts, totals, strict=True) if total <= longest)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardBicycle:
    """One bicycle: what is said of it, what to do, the reasons, and its cautions."""

    name: str
    standing: Standing
    headline: str
    to_do: str = ""
    reasons: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name in ("name", "headline", "to_do"):
            text = _one_line(getattr(self, name))
            object.__setattr__(self, name, text)
            if not text and name != "to_do":
                raise InputError(f"fit card, {name} of a bicycle: wanted some text, found none")
            _check_length(f"{name} of a bicycle", (text,), LINE_LENGTH)
        if self.standing not in get_args(Standing):
            wanted = ", ".join(get_args(Standing))
            raise InputError(f"fit card, standing: wanted one of {wanted}, found {self.standing!r}")
        for name in ("reasons", "cautions"):
            object.__setattr__(self, name, tuple(map(_one_line, getattr(self, name))))
        _check_length(f"reasons for {self.name}", self.reasons + self.cautions, BICYCLE_LENGTH)


@dataclass(frozen=True, slots=True)
class CardDrawing:
    """A drawing with its texts.

    Attributes
    ----------
    svg
        From :mod:`pose_fit.drawing.child_on_bicycle`.
    caption
        A few words below it.
    description
        What it shows, for who cannot see it.
    """

    svg: str
    caption: str
    description: str

    def __post_init__(self) -> None:
        for name in ("caption", "description"):
            text = _one_line(getattr(self, name))
            object.__setattr__(self, name, text)
            if not text:
                raise InputError(f"fit card, drawing: wanted a {name}, found none")
        _check_length("caption", (self.caption,), LINE_LENGTH)


@dataclass(frozen=True, slots=True, kw_only=True)
class FitCard:
    """Everything on the page.

    Attributes
    ----------
    made_on
        Day on which the card was made.
    inseam
        Result with its interval and warnings.
    measured
        How it was measured, one sentence for a parent.
    bicycles
        At most eight, best first; none where only the inseam is wanted.
    label
        Whatever the family typed; may be empty.
    advice
        What to do next, most useful first.
    drawing
        The child on one of the bicycles, or None.
    checked
        Who of the shop stands by it, in a few words ("Checked by our fitter"); may be empty.
    shop
        Name and address of the shop; may be empty.
    unit
        The unit that stands first.
    language
        In which the card speaks; the texts given are in it.
    inseam_on
        Day for which the inseam is expected; None where it was measured.
    notes
        What makes the inseam less sure than usual; None for the inseam's own warnings.
    """

    made_on: dt.date
    inseam: Inseam
    measured: str
    bicycles: tuple[CardBicycle, ...] = ()
    label: str = ""
    advice: tuple[str, ...] = ()
    drawing: CardDrawing | None = None
    checked: str = ""
    shop: str = ""
    unit: Unit = "in"
    language: CardLanguage = "en"
    inseam_on: dt.date | None = None
    notes: tuple[str, ...] | None = None

    def __post_init__(self) -> None:
        for name in ("measured", "label", "checked", "shop"):
            object.__setattr__(self, name, _one_line(getattr(self, name)))
        object.__setattr__(self, "advice", tuple(map(_one_line, self.advice)))
        if not self.measured:
            raise InputError("fit card, measured: wanted how it was measured, found nothing")
        if len(self.bicycles) > MOST_BICYCLES:
            raise InputError(
                f"fit card: wanted at most {MOST_BICYCLES} bicycles, found {len(self.bicycles)}"
            )
        _check_length("label", (self.label,), LABEL_LENGTH)
        for name in ("checked", "shop"):
            _check_length(name, (getattr(self, name),), LINE_LENGTH)
        _check_length("advice", self.advice, ADVICE_LENGTH)
        _check_length("measured", (self.measured,), MEASURED_LENGTH)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What makes the inseam less sure than usual, as much as there is room for."""
        told = self.notes
        if told is None:
            told = tuple(warning.message for warning in self.inseam.warnings)
        kept = within(tuple(map(_one_line, told)), WARNINGS_LENGTH)
        left = len(told) - len(kept)
        more = CARD_TEXTS[self.language].more_notes.format(count=left)
        return (*kept, more) if left else kept
