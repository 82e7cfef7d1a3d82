"""A shared answer shows no picture, ends by itself, and ends when it is taken back."""

import datetime as dt
from contextlib import closing
from unittest.mock import Mock
from urllib.parse import parse_qs, urlsplit

import pytest
from streamlit.testing.v1 import AppTest

from pose_fit.anthropometry.child import Child
from pose_fit.app import shares, visits
from pose_fit.app.shares import SharedAnswer
from pose_fit.app.shop.shop_book import case_book
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.errors import CaseBookError
from pose_fit.fit.choice import choose
from pose_fit.fit.judge import judge
from pose_fit.growth.lasting import forecast_of, lasting
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice

from .app_page import Page, use_browser


@pytest.fixture(autouse=True)
def _in_my_browser(monkeypatch, tmp_path):
    monkeypatch.setenv("POSE_FIT_CASE_BOOK", str(tmp_path / "book.db"))
    visits._visits.clear()
    use_browser(monkeypatch, "m" * 22)


def shared(page: Page) -> tuple[Page, str]:
    page.press("Use a tape instead")
    page.widget("text_input", "Reading 1").set_value("23.5")
    page.press("Show the answer")
    page.press("Make a link")
    (link,) = [code.value for code in page.app.code if "share=" in code.value]
    return page, parse_qs(urlsplit(link).query)["share"][0]


def opened(secret: str) -> str:
    """What somebody reads who opens the link in another browser."""
    app = AppTest.from_function(_shared_page, default_timeout=60)
    app.query_params["share"] = secret
    return Page(app).run().text


def test_an_answer_reads_the_same_from_the_book():
    bicycles = read_catalogue(DEMO_CATALOGUE)
    for inseam_mm in (300.0, 420.0, 560.0, 700.0, 900.0):
        inseam = Inseam.stated(inseam_mm, 9.0).with_warnings(Notice("readings_disagree", "Two."))
        fits = judge(inseam, bicycles)
        lines = {line.name: line for line in lasting(fits, forecast_of(inseam, Child(age_y=7.0)))}
        answer = SharedAnswer(choose(fits), inseam, lines)
        assert SharedAnswer.read(answer.written()) == answer
    for other in ("", "{}", '{"kind": "choice"}', '{"kind": "a later one", "choice": {}}', "[1]"):
        assert SharedAnswer.read(other) is None


def test_a_book_that_cannot_be_used_is_said_and_the_entries_go_all_the_same(page, monkeypatch):
    page, _ = shared(page)
    monkeypatch.setattr(
        "pose_fit.app.visits.take_back", Mock(side_effect=CaseBookError("the disk is gone"))
    )
    page.press("Forget my pictures")
    assert not page.app.text_input
    assert "the disk is gone" in page.text


def _shared_page() -> None:
    from pose_fit.app.family.shared_page import shared_page

    shared_page()


def test_the_link_shows_bicycle_and_inseam_and_no_picture(page, empty_wall):
    page.upload("Take or choose pictures", ("wall.jpg", empty_wall, "image/jpeg"))
    page, secret = shared(page)
    best = next(line for line in page.text.splitlines() if 'id="pf-answer"' in line)
    text = opened(secret)
    assert best.split('id="pf-answer">')[1].split("<")[0] in text
    assert "Somebody shared this answer" in text
    assert "wall.jpg" not in text
    assert "data:image/jpeg" not in text


def test_an_ended_link_shows_nothing(page, monkeypatch):
    page, secret = shared(page)
    later = dt.datetime.now(dt.UTC) + shares.KEPT + dt.timedelta(minutes=1)
    with monkeypatch.context() as patch:
        patch.setattr(case_book().shared, "_clock", lambda: later)
        assert "This link has ended" in opened(secret)
    # It is gone, not hidden.
    assert "This link has ended" in opened(secret)


def test_a_link_that_is_taken_back_shows_nothing(page):
    page, secret = shared(page)
    page.press("End the link now")
    assert not [code for code in page.app.code if "share=" in code.value]
    assert "This link has ended" in opened(secret)


def test_forgetting_ends_the_link(page):
    page, secret = shared(page)
    page.press("Forget my pictures")
    assert "This link has ended" in opened(secret)


def test_a_guessed_secret_finds_nothing(page):
    shared(page)
    assert "This link has ended" in opened("x" * 22)
    assert "This link has ended" in opened("")


def test_another_answer_makes_another_link(page):
    page, secret = shared(page)
    page.enter("text_input", "Reading 1", "20.5")
    assert "The answer has changed" in page.text
    page.press("Make a link")
    assert "This link has ended" in opened(secret)


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_a_link_opens_in_another_browser(visit, chromium):
    visit.measure_by_tape("23.5")
    visit.open("Share this answer")
    visit.press("Make a link")
    link = visit.tab.locator("code", has_text="share=").inner_text().strip()
    mine = visit.tab.locator(".pf-answer h1").inner_text()
    with closing(chromium.new_context()) as another:
        stranger = another.new_page()
        stranger.goto(link)
        stranger.get_by_text("Somebody shared this answer").first.wait_for()
        assert stranger.locator(".pf-answer h1").inner_text() == mine
        visit.press("End the link now")
        stranger.reload()
        stranger.get_by_text("This link has ended").wait_for()
