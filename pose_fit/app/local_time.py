"""Days and times as the clock on the visitor's wall shows them."""

import datetime as dt
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import streamlit as st

from pose_fit.app.texts.language import day_text, in_language
from pose_fit.app.texts.staff_texts import STAFF

__all__ = ["local", "midnight", "moment_text", "today"]


def local(at: dt.datetime) -> dt.datetime:
    """The same moment in the browser's time zone; in UTC where the browser names none."""
    return at.astimezone(_zone() or dt.UTC)


def today() -> dt.date:
    """The day it is at the visitor's."""
    return local(dt.datetime.now(dt.UTC)).date()


def midnight(day: dt.date) -> dt.datetime:
    """When this day begins at the visitor's."""
    return dt.datetime.combine(day, dt.time.min, tzinfo=_zone() or dt.UTC)


def moment_text(at: dt.datetime) -> str:
    """Such as "today at 14:05" or "2 March 2026 at 14:05"; with its zone where that is UTC."""
    say = in_language(STAFF)
    here = local(at)
    days = (today() - here.date()).days
    time = f"{here:%H:%M}"
    if days in (0, 1):
        told = (say.today if days == 0 else say.yesterday).format(time=time)
    else:
        told = say.moment.format(day=day_text(here.date()), time=time)
    return told if _zone() else say.world_time.format(moment=told)


def _zone() -> ZoneInfo | None:
    name = st.context.timezone
    try:
        return ZoneInfo(name) if name else None
    except (ZoneInfoNotFoundError, ValueError):
        return None
