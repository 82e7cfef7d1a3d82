"""The shop's bicycles: one catalogue for all pages and branches, with what changed and when."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from sqlalchemy import func, select, text

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import parse_catalogue
from pose_fit.bicycle.catalogue_edit import (
    CatalogueChange,
    StandoverMeasured,
    catalogue_change,
    with_bicycle,
    with_cell,
    with_measured_standover,
    without_bicycle,
)
from pose_fit.casebook.codec import change_from, change_text
from pose_fit.casebook.database import Database
from pose_fit.casebook.tables import STOCK_CHANGES
from pose_fit.casebook.typed_text import NAME_LENGTH, needed_text
from pose_fit.errors import CaseBookError, CatalogueError

__all__ = ["Stock", "StockChange", "StockState"]


@dataclass(frozen=True, slots=True)
class StockState:
    """The catalogue after one change; ``catalogue`` is its text."""

    change_id: int
    catalogue: str
    bicycles: tuple[Bicycle, ...]


@dataclass(frozen=True, slots=True)
class StockChange:
    """What changed, by whom and when (with time zone); words where an earlier version wrote some."""

    at: dt.datetime
    by: str
    what: CatalogueChange | StandoverMeasured | str


class Stock:
    """The catalogue and its changes; older states are kept."""

    def __init__(self, database: Database, *, clock: Callable[[], dt.datetime]) -> None:
        self._database: Final = database
        self._clock: Final = clock

    def newest_change_id(self) -> int | None:
        """Number of the newest change, or None before the first: cheap to ask for."""
        with self._database.reading() as connection:
            newest = connection.execute(select(func.max(STOCK_CHANGES.c.change_id)))
            change_id: int | None = newest.scalar_one()
        return change_id

    def state(self) -> StockState | None:
        """The catalogue as it stands; None before the first."""
        newest = select(STOCK_CHANGES).order_by(STOCK_CHANGES.c.change_id.desc()).limit(1)
        with self._database.reading() as connection:
            row = connection.execute(newest).mappings().one_or_none()
        if row is None:
            return None
        bicycles = parse_catalogue(row["catalogue"], source="the shop's catalogue")
        return StockState(row["change_id"], row["catalogue"], bicycles)

    def changes(self, *, limit: int = 50) -> tuple[StockChange, ...]:
        """What changed, newest first."""
        table = STOCK_CHANGES.c
        wanted = select(table.at, table.by, table.what).order_by(table.change_id.desc())
        with self._database.reading() as connection:
            rows = connection.execute(wanted.limit(limit)).all()
        return tuple(StockChange(row.at, row.by, change_from(row.what)) for row in rows)

    def replace(
        self, catalogue: str, *, by: str, based_on: int | None, source: str = "catalogue"
    ) -> StockState:
        """Another catalogue in place of the state ``based_on``; the new state comes back.

        Raises
        ------
        CatalogueError
            The text has a fault; it names line and column.
        CaseBookError
            Somebody changed the stock since it was read; nothing was written.
        """
        bicycles = parse_catalogue(catalogue, source=source)
        before = self.state()
        what = catalogue_change(() if before is None else before.bicycles, bicycles)
        return self._write(catalogue, bicycles, what, by=by, based_on=based_on)

    def correct(
        self, state: StockState, *, name: str, header: str, value: str, by: str
    ) -> StockState:
        """One cell of one bicycle changed; raises as :meth:`replace`."""
        changed = with_cell(state.catalogue, name=name, header=header, value=value)
        return self.replace(changed, by=by, based_on=state.change_id)

    def add(self, state: StockState | None, bicycle: Bicycle, *, by: str) -> StockState:
        """One more bicycle, or the first; raises as :meth:`replace`."""
        known = () if state is None else state.bicycles
        if any(bicycle.name.casefold() == each.name.casefold() for each in known):
            raise CatalogueError(f"There is a bicycle {bicycle.name!r} already.")
        text = with_bicycle("" if state is None else state.catalogue, bicycle)
        return self.replace(text, by=by, based_on=None if state is None else state.change_id)

    def take_out(self, state: StockState, *, name: str, by: str) -> StockState:
        """The catalogue without this bicycle; raises as :meth:`replace`, also for the last one."""
        text = without_bicycle(state.catalogue, name=name)
        return self.replace(text, by=by, based_on=state.change_id)

    def measured(self, state: StockState, *, name: str, standover_mm: float, by: str) -> StockState:
        """A bicycle's standover was measured in the shop; raises as :meth:`replace`."""
        changed = with_measured_standover(state.catalogue, name=name, standover_mm=standover_mm)
        bicycles = parse_catalogue(changed, source="the shop's catalogue")
        what = StandoverMeasured(name, standover_mm)
        return self._write(changed, bicycles, what, by=by, based_on=state.change_id)

    def _write(
        self,
        catalogue: str,
        bicycles: tuple[Bicycle, ...],
        what: CatalogueChange | StandoverMeasured,
        *,
        by: str,
        based_on: int | None,
    ) -> StockState:
        by = needed_text(by, what="name of who does this", longest=NAME_LENGTH)
        told = change_text(what)
        values = {"at": self._clock(), "by": by, "what": told, "catalogue": catalogue}
        newest = select(func.max(STOCK_CHANGES.c.change_id))
        with self._database.writing() as connection:
            if not self._database.is_sqlite:
                connection.execute(text("LOCK TABLE stock_changes IN EXCLUSIVE MODE"))
            if connection.execute(newest).scalar_one() != based_on:
                raise CaseBookError(
                    "somebody changed the stock since you opened it; look at it again, then repeat"
                    " your change"
                )
            written = STOCK_CHANGES.insert().values(values).returning(STOCK_CHANGES.c.change_id)
            change_id: int = connection.execute(written).scalar_one()
        return StockState(change_id, catalogue, bicycles)
