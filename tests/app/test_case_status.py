"""The family looks its case up, sees the answer, joins its child's cases, and deletes it."""

import datetime as dt

import numpy as np
import pytest
from streamlit.testing.v1 import AppTest

from pose_fit.app.family import case_status
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.decision import Accepted, PhotoAsked
from pose_fit.casebook.events import TapeTaken
from pose_fit.casebook.kept_picture import Picture
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.inseam.inseam import Inseam
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask

from .app_page import Page

ALONE = """
from pose_fit.app.family.case_status import case_status_page
from pose_fit.app.session import keep_fields
keep_fields()
case_status_page()
"""
ESTIMATE = Inseam.stated(600.0, 8.0)
PHOTO = PhotoRecord(
    width_px=200, height_px=300, task=PhotoTask(ReferenceRequest(kind="letter")), result=ESTIMATE
)


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.setenv("POSE_FIT_CASE_BOOK", str(tmp_path / "cases.db"))
    monkeypatch.setattr(case_status, "_WRONG_CODE_S", 0.0)
    return tmp_path


@pytest.fixture
def book(place):
    with CaseBook(place / "cases.db") as book:
        yield book


@pytest.fixture
def case(book):
    content = CaseContent(estimate=ESTIMATE, label="Zephyrine order", photos=(PHOTO, PHOTO))
    noise = np.random.default_rng(3).integers(0, 256, (60, 40, 3), dtype=np.uint8)
    return book.receive(content, by="family", pictures=[Picture(noise), None])


def look_up(code: str) -> Page:
    app = AppTest.from_string(ALONE, default_timeout=60)
    return Page(app).run().enter("text_input", "Reply code", code)


def test_it_waits_is_asked_and_is_answered(book, case):
    page = look_up(case.reply_code.lower())
    assert "**Waiting.**" in page.text
    assert "1 of 2 pictures, faces hidden" in page.text
    assert "pf-value" not in page.text
    case = book.act(case, PhotoAsked("Please stand at the wall."), by="Kim")
    assert "Please stand at the wall." in page.run().text
    case = book.act(case, Accepted("See you on Saturday"), by="Kim")
    assert "**Answered**" in page.run().text
    assert "See you on Saturday" in page.text
    assert 'pf-value">23.6 in' in page.text
    # Who in the shop did it is the shop's own business.
    assert "Kim" not in page.text


def test_a_wrong_code_tells_nothing(case):
    page = look_up("AAAA-AAAA")
    assert "No case has this reply code" in page.text
    assert "Waiting" not in page.text


def test_the_family_deletes_its_case_and_no_byte_stays(book, case, place):
    tape = ShopTape(readings_mm=(590.0,), taken_by="Quillonia", day=dt.date(2026, 3, 2))
    case = book.act(case, TapeTaken(tape), by="Kim")
    jpeg = book.picture(case.case_id)
    traces = (b"Zephyrine", b"Quillonia", b"zephyrine", jpeg[900:960])
    files = b"".join(file.read_bytes() for file in place.iterdir())
    assert all(trace in files for trace in traces)
    page = look_up(case.reply_code)
    assert "what the tape said in the shop" in page.text
    assert page.widget("button", "Delete my case").disabled
    page.enter("checkbox", "Delete everything", True)
    page.press("Delete my case")
    assert "Your case is deleted." in page.text
    assert book.count() == 0
    assert book.pairs() == ()
    files = b"".join(file.read_bytes() for file in place.iterdir())
    assert not any(trace in files for trace in traces)


def test_the_pictures_can_go_and_the_numbers_stay(book, case):
    look_up(case.reply_code).press("Delete the pictures")
    assert book.case(case.case_id).pictures == ()
    assert book.case(case.case_id).content == case.content


def test_one_childs_cases_are_kept_together_only_when_the_family_says_so(book, case):
    page = look_up(case.reply_code).press("Keep this child’s cases together")
    code = book.case(case.case_id).content.child_code
    assert f"{code[:4]}-{code[4:]}" in page.text
    second = book.receive(CaseContent(estimate=ESTIMATE), by="family")
    page = look_up(second.reply_code)
    page.enter("text_input", "This child’s code", "0000-0000")
    page.press("Keep this child’s cases together")
    assert "No child’s case has this code" in page.text
    page.enter("text_input", "This child’s code", code)
    page.press("Keep this child’s cases together")
    assert len(book.cases_of_child(code)) == 2
    page.press("Take this case out again")
    assert len(book.cases_of_child(code)) == 1


@pytest.mark.parametrize("sending", case_status.SENDING_PAGES)
def test_another_picture_goes_to_the_case_from_either_page(book, case, sending):
    page = look_up(case.reply_code).press("Measure and send another")
    state = page.app.session_state
    assert state[f"field.{sending}.send.earlier"] == case.reply_code
    assert state[f"field.fold.{sending}.send"] is True
    assert state[case_status.GO_MEASURE]
