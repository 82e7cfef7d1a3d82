"""Staff read times off the clock on their wall."""

import datetime as dt
from types import SimpleNamespace

import pytest

from pose_fit.app import local_time
from pose_fit.app.texts.staff_texts import STAFF
from pose_fit.card.card_words import date_text

AT = dt.datetime(2026, 3, 2, 23, 30, tzinfo=dt.UTC)


@pytest.fixture
def wall(monkeypatch):
    def hang(zone, language="en", now=AT):
        clock = type("clock", (dt.datetime,), {"now": classmethod(lambda _, zone: now)})
        monkeypatch.setattr(local_time.dt, "datetime", clock)
        monkeypatch.setattr(
            local_time.st, "context", SimpleNamespace(timezone=zone, locale=language)
        )
        monkeypatch.setattr(local_time, "day_text", lambda day: date_text(day, language))
        monkeypatch.setattr(local_time, "in_language", lambda _: STAFF[language])

    return hang


@pytest.mark.parametrize(
    ("zone", "language", "later", "told"),
    [
        ("America/New_York", "en", dt.timedelta(hours=1), "today at 18:30"),
        ("Asia/Tokyo", "en", dt.timedelta(hours=1), "today at 08:30"),
        ("Asia/Tokyo", "es", dt.timedelta(days=1), "ayer a las 08:30"),
        ("America/New_York", "en", dt.timedelta(days=3), "2 March 2026 at 18:30"),
        ("Asia/Tokyo", "es", dt.timedelta(days=3), "el 3 de marzo de 2026 a las 08:30"),
        ("", "en", dt.timedelta(days=3), "2 March 2026 at 23:30, world time (UTC)"),
        ("Moon/Base", "en", dt.timedelta(hours=0), "today at 23:30, world time (UTC)"),
    ],
)
def test_a_moment_is_told_in_the_browsers_zone(wall, zone, language, later, told):
    wall(zone, language, now=AT + later)
    assert local_time.moment_text(AT) == told


def test_a_day_begins_at_the_shops_midnight(wall):
    wall("America/New_York")
    assert local_time.today() == dt.date(2026, 3, 2)
    assert local_time.midnight(dt.date(2026, 3, 2)).utcoffset() == dt.timedelta(hours=-5)
