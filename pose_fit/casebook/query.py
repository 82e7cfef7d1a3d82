"""What to look for in the case book."""

import datetime as dt
from dataclasses import dataclass
from typing import Final

from sqlalchemy import ColumnElement

from pose_fit.casebook.case import STATES, CaseState
from pose_fit.casebook.tables import CASES
from pose_fit.casebook.typed_text import folded_text
from pose_fit.errors import CaseBookError

__all__ = ["EVERY_CASE", "CaseQuery"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseQuery:
    """Conditions that must all hold; left out, they hold for every case.

    Attributes
    ----------
    label
        Part of the family's label, whatever its case.
    text
        Words that must all occur somewhere in labels, remarks, notes, messages, reasons, or
        the name of who decided; parts of words count.
    states
        The case is in one of these; empty means any.
    received_from, received_before
        Sent in from this moment on, and before that one; with time zone.
    """

    label: str = ""
    text: str = ""
    states: tuple[CaseState, ...] = ()
    received_from: dt.datetime | None = None
    received_before: dt.datetime | None = None

    def __post_init__(self) -> None:
        for state in self.states:
            if state not in STATES:
                raise CaseBookError(f"state: wanted one of {', '.join(STATES)}, found {state!r}")
        for moment in (self.received_from, self.received_before):
            if moment is not None and moment.tzinfo is None:
                raise CaseBookError(f"received: wanted a moment with time zone, found {moment}")

    def conditions(self) -> list[ColumnElement[bool]]:
        """The same for the database."""
        # autoescape: "%" and "_" are letters here.
        holds = [
            CASES.c.search_text.contains(word, autoescape=True)
            for word in folded_text(self.text).split()
        ]
        if label := folded_text(self.label):
            holds.append(CASES.c.label_key.contains(label, autoescape=True))
        if self.states:
            holds.append(CASES.c.state.in_(self.states))
        if self.received_from is not None:
            holds.append(CASES.c.received_at >= self.received_from)
        if self.received_before is not None:
            holds.append(CASES.c.received_at < self.received_before)
        return holds


EVERY_CASE: Final = CaseQuery()
