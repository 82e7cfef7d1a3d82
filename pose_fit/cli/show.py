"""Prints what a command found, as text or as JSON, each photo or child as soon as it is known."""

import datetime as dt
import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from pose_fit.fit.choice import wanted_standover_mm
from pose_fit.fit.policy import Rider
from pose_fit.fit.stock import Stock
from pose_fit.growth.dated_readings import Dated, combined
from pose_fit.inseam.inseam import Method
from pose_fit.metrology.units import Unit, with_unit_first
from pose_fit.refusal import Refusal
from pose_fit.report.answer import answer_of
from pose_fit.report.as_json import (
    answer_object,
    child_object,
    measured_object,
    refused_object,
    today_object,
)
from pose_fit.report.contradiction import contradiction
from pose_fit.report.text import (
    answer_lines,
    detail_lines,
    inseam_lines,
    refused_lines,
    short_line,
)

if TYPE_CHECKING:
    from pose_fit.cli.measured_files import FileRead

__all__ = ["Show"]


_WITH_BIKES: Final = "Which bicycles fit: add --bikes CSV, a list of bicycles."
#: Readings to which a tape would add nothing new.
_BY_TAPE: Final[frozenset[Method]] = frozenset({"tape", "stated"})


@dataclass(frozen=True, slots=True)
class Show:
    """How to answer, and for whom; every method tells whether there was an answer."""

    stock: Stock
    rider: Rider
    today: dt.date
    unit: Unit = "in"
    details: bool = False
    as_json: bool = False

    def photo(self, read: "FileRead", *, is_one_of_several: bool) -> bool:
        """One photo, with its bicycles unless they come once for all photos of the child."""
        dated = read.dated
        if dated is None:
            assert isinstance(read.result, Refusal)
            return self._refused(read.name, read.result)
        told = measured_object(read.name, read.measurement)
        if not is_one_of_several:
            return self._answered(read.name, dated, told)
        told |= today_object(dated, dated.carried_to(self.today))
        self._print(told, [short_line(read.name, dated.inseam, unit=self.unit)])
        return True

    def child(self, readings: Sequence[Dated]) -> bool:
        """All readings of one child together."""
        has_tape = any(reading.inseam.method in _BY_TAPE for reading in readings)
        together = combined(readings)
        if isinstance(together, Refusal):
            return self._refused(None, together, has_tape=has_tape)
        against = contradiction(together.inseam, together.child)
        if against is not None:
            return self._refused(None, against, has_tape=has_tape)
        return self._answered(None, together, child_object(together.inseam))

    def _answered(self, name: str | None, measured: Dated, told: dict[str, Any]) -> bool:
        carried = measured.carried_to(self.today)
        told |= today_object(measured, carried)
        lines = [] if name is None else [name]
        if isinstance(carried, Refusal):
            lines += inseam_lines(measured.inseam, unit=self.unit)
            lines += refused_lines("No advice for today.", carried, unit=self.unit)
            self._print(told, [*lines, ""])
            return not self.stock
        answer = answer_of(carried.inseam, self.stock, self.rider, carried.child)
        if self.as_json:
            self._print(told | answer_object(answer), ())
            return True
        if answer is None:
            lines += inseam_lines(
                carried.inseam,
                unit=self.unit,
                wanted_standover_mm=wanted_standover_mm(
                    carried.inseam, rider=self.rider, policy=self.stock.policy
                ),
            )
            lines.append(_WITH_BIKES)
        else:
            lines += answer_lines(answer, unit=self.unit)
        if self.details:
            lines += ["", *detail_lines(carried.inseam, answer, unit=self.unit)]
        if name is not None:
            lines.append("")
        self._print(told, lines)
        return True

    def _refused(self, name: str | None, refusal: Refusal, *, has_tape: bool = False) -> bool:
        title = "No result." if name is None else f"{name}: not measured."
        lines = refused_lines(title, refusal, unit=self.unit, has_tape=has_tape)
        self._print(refused_object(name, refusal), lines if name is None else [*lines, ""])
        return False

    def _print(self, told: dict[str, Any], lines: Sequence[str]) -> None:
        text = with_unit_first(json.dumps(told), self.unit) if self.as_json else "\n".join(lines)
        print(text, flush=True)
