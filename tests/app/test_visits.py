"""A reload loses nothing; a stranger finds nothing; forgetting forgets."""

import pytest
from streamlit.testing.v1 import AppTest

from pose_fit.app import visits
from pose_fit.app.serve import ENTRY

from .app_page import Page


def reloaded(token: str) -> Page:
    """A new session with the address of an earlier one."""
    app = AppTest.from_file(str(ENTRY), default_timeout=60)
    app.query_params["visit"] = token
    return Page(app).run()


def token_of(page: Page) -> str:
    token = page.app.query_params["visit"]
    return token if isinstance(token, str) else token[0]


@pytest.fixture(autouse=True)
def _no_visits_before():
    visits._visits.clear()


def test_a_reload_brings_back_entries_and_pictures(page, empty_wall):
    page.enter("text_input", "Reading 1", "23.5")
    page.enter("selectbox", "Object of known size", "door")
    page.upload("Upload pictures", ("wall.jpg", empty_wall, "image/jpeg"))
    again = reloaded(token_of(page))
    assert again.widget("text_input", "Reading 1").value == "23.5"
    assert again.widget("selectbox", "Object of known size").value == "door"
    assert "wall.jpg" in again.text


def test_another_secret_finds_nothing_and_is_not_taken_over(page):
    page.enter("text_input", "Reading 1", "23.5")
    stranger = reloaded("x" * 22)
    assert not stranger.widget("text_input", "Reading 1").value
    assert token_of(stranger) not in ("x" * 22, token_of(page))


def test_forgetting_empties_the_page_and_the_memory(page, empty_wall):
    page.enter("text_input", "Reading 1", "23.5")
    page.upload("Upload pictures", ("wall.jpg", empty_wall, "image/jpeg"))
    before = token_of(page)
    page.press("Forget my pictures")
    assert not page.widget("text_input", "Reading 1").value
    assert "wall.jpg" not in page.text
    assert "wall.jpg" not in reloaded(before).text


def test_a_visit_ends_half_an_hour_after_the_last_touch(page, monkeypatch):
    page.enter("text_input", "Reading 1", "23.5")
    now_s = visits.time.monotonic()
    monkeypatch.setattr(visits.time, "monotonic", lambda: now_s + 31 * 60)
    assert not reloaded(token_of(page)).widget("text_input", "Reading 1").value
