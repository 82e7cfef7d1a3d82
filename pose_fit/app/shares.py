"""Answers that somebody shared: numbers and bicycles under a secret of their own, no picture.

The address of a visit belongs to its browser. What is shared is another thing: it holds no picture
and nothing that was typed, ends by itself, and ends at once when it is taken back. It stands in the
case book, so that every process of the shop shows it, and leaves no byte there when it ends.
"""

import datetime as dt
import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from cattrs import BaseValidationError
from cattrs.preconf.json import make_converter

from pose_fit.app.shop.shop_book import book_place, case_book
from pose_fit.errors import PoseFitError
from pose_fit.fit.choice import Choice, NoneFits
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam

__all__ = ["KEPT", "Share", "SharedAnswer", "share", "shared_answer", "take_back"]

#: So long a shared answer is shown.
KEPT: Final = dt.timedelta(days=7)
_CONVERTER: Final = make_converter()


@dataclass(frozen=True, slots=True)
class SharedAnswer:
    """What is shown to whoever has the link: the choice, the inseam, how long each bicycle lasts."""

    choice: Choice | NoneFits
    inseam: Inseam
    lasting: Mapping[str, Lasting]

    @property
    def mark(self) -> tuple[object, ...]:
        """The same for the same answer."""
        best = self.choice.best if isinstance(self.choice, Choice) else None
        bicycle = None if best is None else (best.bicycle.name, best.shown)
        return bicycle, self.inseam.mean_mm, self.inseam.sd_mm

    def written(self) -> str:
        """As text for the book."""
        kind = "choice" if isinstance(self.choice, Choice) else "none_fits"
        return json.dumps({"kind": kind, **_CONVERTER.unstructure(self, SharedAnswer)})

    @classmethod
    def read(cls, text: str) -> "SharedAnswer | None":
        """The answer that :meth:`written` wrote; None where another version of the program did."""
        try:
            record = json.loads(text)
            kind = {"choice": Choice, "none_fits": NoneFits}[record["kind"]]
            choice: Choice | NoneFits = _CONVERTER.structure(record["choice"], kind)
            inseam = _CONVERTER.structure(record["inseam"], Inseam)
            lasting = _CONVERTER.structure(record["lasting"], dict[str, Lasting])
        except (BaseValidationError, PoseFitError, KeyError, TypeError, ValueError):
            return None
        return cls(choice, inseam, lasting)


@dataclass(frozen=True, slots=True)
class Share:
    """What the sharer holds: the secret that stands in the link, and when it ends."""

    secret: str
    ends_at: dt.datetime


def share(answer: SharedAnswer) -> Share:
    """A new link's secret for this answer.

    Raises
    ------
    CaseBookError
        The book cannot be used.
    """
    secret = secrets.token_urlsafe(16)
    return Share(secret, case_book().shared.keep(secret, answer.written(), kept=KEPT))


def shared_answer(secret: str) -> SharedAnswer | None:
    """The answer under this secret; None where there is none, or none any more."""
    place = book_place()
    if "://" not in place and not Path(place).exists():
        # Who opens a link makes no book.
        return None
    text = case_book().shared.answer(secret)
    return None if text is None else SharedAnswer.read(text)


def take_back(made: Share) -> None:
    """The link shows nothing from now on; raises as :func:`share`."""
    case_book().shared.take_back(made.secret)
