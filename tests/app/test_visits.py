"""A reload loses nothing; another browser finds nothing; forgetting forgets."""

import pytest
from streamlit.runtime.memory_uploaded_file_manager import MemoryUploadedFileManager
from streamlit.testing.v1 import AppTest

from pose_fit.app import visits
from pose_fit.app.serve import ENTRY

from .app_page import Page, use_browser

MINE = "m" * 22


def reloaded(token: str) -> Page:
    """A new session with the address of an earlier one."""
    app = AppTest.from_file(str(ENTRY), default_timeout=60)
    app.query_params["visit"] = token
    return Page(app).run()


def token_of(page: Page) -> str:
    token = page.app.query_params["visit"]
    return token if isinstance(token, str) else token[0]


def measured(page: Page) -> Page:
    page.press("Use a tape instead")
    page.widget("text_input", "Reading 1").set_value("23.5")
    return page.press("Show the answer")


@pytest.fixture(autouse=True)
def _in_my_browser(monkeypatch):
    visits._visits.clear()
    use_browser(monkeypatch, MINE)


def test_a_reload_brings_back_entries_pictures_and_answers(page, empty_wall):
    page.upload("Take or choose pictures", ("wall.jpg", empty_wall, "image/jpeg"))
    measured(page)
    again = reloaded(token_of(page))
    assert again.widget("text_input", "Reading 1").value == "23.5"
    assert "wall.jpg" in again.text


def test_the_address_opens_nothing_in_another_browser(page, empty_wall, monkeypatch):
    page.upload("Take or choose pictures", ("wall.jpg", empty_wall, "image/jpeg"))
    token = token_of(page)
    for other in ("o" * 22, ""):
        use_browser(monkeypatch, other)
        stranger = reloaded(token)
        assert "wall.jpg" not in stranger.text
        assert token_of(stranger) != token
    use_browser(monkeypatch, MINE)
    assert "wall.jpg" in reloaded(token).text


def test_another_secret_finds_nothing_and_is_not_taken_over(page):
    measured(page)
    stranger = reloaded("x" * 22)
    assert "Use a tape instead" in [button.label for button in stranger.app.button]
    assert token_of(stranger) not in ("x" * 22, token_of(page))


def test_forgetting_empties_the_page_and_the_memory(page, empty_wall):
    page.upload("Take or choose pictures", ("wall.jpg", empty_wall, "image/jpeg"))
    measured(page)
    before = token_of(page)
    page.press("Forget my pictures")
    assert "wall.jpg" not in page.text
    assert not page.app.text_input
    assert "wall.jpg" not in reloaded(before).text


def test_a_visit_ends_half_an_hour_after_the_last_touch(page, monkeypatch):
    measured(page)
    now_s = visits.time.monotonic()
    monkeypatch.setattr(visits.time, "monotonic", lambda: now_s + 31 * 60)
    assert not reloaded(token_of(page)).app.text_input


LOST = "Anything you entered here before is no longer kept"


def test_an_address_whose_visit_is_gone_says_so_until_the_next_press(page):
    assert LOST not in page.text
    measured(page)
    visits._visits.clear()
    again = reloaded(token_of(page))
    assert LOST in again.text
    again.press("Use a tape instead")
    assert LOST not in again.text
    # What is entered from now on is kept under a new secret.
    assert token_of(again) != token_of(page)
    assert LOST not in reloaded(token_of(again)).text


def test_the_file_of_a_picture_is_let_go_once_it_is_open(page, empty_wall, monkeypatch):
    gone = []
    monkeypatch.setattr(
        MemoryUploadedFileManager, "remove_file", lambda _, **named: gone.append(named["file_id"])
    )
    page.upload("Take or choose pictures", ("wall.jpg", empty_wall, "image/jpeg"))
    assert "wall.jpg" in page.text
    assert len(gone) == 1
