"""What the shop chose for all its pages: kept in the book, so that every branch has the same."""

import datetime as dt
from collections.abc import Callable
from typing import Final

from sqlalchemy import select

from pose_fit.casebook.database import Database
from pose_fit.casebook.tables import SETTINGS
from pose_fit.casebook.typed_text import NAME_LENGTH, needed_text

__all__ = ["ShopSettings"]

_CORRECTION: Final = "correction"


class ShopSettings:
    """Settings of the shop; each is kept with who changed it last, and when."""

    def __init__(self, database: Database, *, clock: Callable[[], dt.datetime]) -> None:
        self._database: Final = database
        self._clock: Final = clock

    @property
    def corrects(self) -> bool:
        """Whether pairs of photo and tape correct the estimates; they do until turned off."""
        wanted = select(SETTINGS.c.value).where(SETTINGS.c.name == _CORRECTION)
        with self._database.reading() as connection:
            kept = connection.execute(wanted).scalar_one_or_none()
        return True if kept is None else bool(kept)

    def turn_correction(self, *, on: bool, by: str) -> None:
        """Turn the correction on or off, for every branch."""
        by = needed_text(by, what="name of who does this", longest=NAME_LENGTH)
        values = {"name": _CORRECTION, "value": on, "at": self._clock(), "by": by}
        with self._database.writing() as connection:
            connection.execute(SETTINGS.delete().where(SETTINGS.c.name == _CORRECTION))
            connection.execute(SETTINGS.insert().values(values))
