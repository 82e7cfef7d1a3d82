"""From photo to pair to corrected estimate on the shop's pages."""

import datetime as dt
import re

import pytest

from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.events import TapeTaken
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask

from .browser import PASSPHRASE


@pytest.fixture
def book(tmp_path, monkeypatch):
    place = tmp_path / "cases.db"
    monkeypatch.setenv("POSE_FIT_CASE_BOOK", str(place))
    monkeypatch.setenv("POSE_FIT_BRANCH", "north")
    with CaseBook(place) as book:
        book.staff.add("Kim", PASSPHRASE)
        yield book


def take_in(book, mean_mm: float = 600.0):
    estimate = Inseam(UncertainLength(mean_mm, (Contribution("posture", 12.0),)), "photo")
    record = PhotoRecord(
        width_px=3000,
        height_px=4000,
        task=PhotoTask(ReferenceRequest(kind="letter")),
        result=estimate,
    )
    return book.receive(CaseContent(estimate=estimate, photos=(record,)), by="family")


def make_pairs(book, count: int, tape_mm: float = 585.0):
    for number in range(count):
        tape = ShopTape(
            readings_mm=(tape_mm + 3 * (number % 3),),
            taken_by=("Ada", "Bo")[number % 2],
            day=dt.datetime.now(dt.UTC).date(),
            shop="north",
        )
        book.act(take_in(book), TapeTaken(tape), by="Ada")


def sign_in(page):
    page.widget("text_input", "Name").set_value("Kim")
    page.widget("text_input", "Passphrase").set_value(PASSPHRASE)
    return page.press("Sign in")


def part(page, name: str):
    return page.enter("segmented_control", "Part of the book", name)


def test_a_tape_in_the_shop_is_kept_with_who_how_and_whether_it_touched(book, open_page):
    case = take_in(book)
    page = sign_in(open_page("staff")).press("**Case ")
    page.enter("segmented_control", "More", "tape")
    assert page.widget("button", "Keep the tape").disabled
    page.enter("text_input", "Reading 1", "23 in")
    page.enter("text_input", "Reading 2", "23.25 in")
    page.enter("text_input", "Who held the tape", "Sasha")
    page.enter("text_input", "Bicycle tried", "Tansel 20")
    page.enter("radio", "The child stood over it", 2)
    page.press("Keep the tape")
    tape = book.case(case.case_id).content.shop_tape
    assert tape.readings_mm == pytest.approx((584.2, 590.55))
    assert (tape.taken_by, tape.care, tape.touched) == ("Sasha", "careful", False)
    assert (tape.bicycle, tape.shop) == ("Tansel 20", "north")
    assert "The photo read 0.5 in longer" in page.text
    assert "took the tape in the shop" in page.text
    assert len(book.pairs()) == 1


def test_without_pairs_the_page_says_how_to_make_one(book, open_page):
    page = part(sign_in(open_page("staff")), "pairs")
    assert "choose **Tape in the shop**" in page.text


def test_the_page_shows_bias_plot_groups_and_the_pair_to_look_at_again(book, open_page):
    make_pairs(book, 12)
    make_pairs(book, 1, tape_mm=760.0)
    page = part(sign_in(open_page("staff")), "pairs")
    assert "In this shop, 13 children\\: off by" in page.text
    assert "Case 13\\: the photo is 160 mm shorter than the tape" in page.text
    assert "tape held by: Ada" in page.text
    assert "12 of 13 lie within the interval" in page.text
    assert "Photo minus tape of 13 children" in page.text


def test_the_next_case_is_corrected_says_so_and_one_press_turns_it_off(book, open_page):
    make_pairs(book, 12)
    case = take_in(book)
    page = sign_in(open_page("staff"))
    page.press(f"**Case {case.case_id}")
    assert f"Case {case.case_id}" in page.app.subheader[0].value
    assert "12 children measured by photo and by tape" in page.text
    told_in = float(re.search(r'pf-value">([\d.]+) in', page.text).group(1))
    assert 23.0 < told_in < 23.5
    page.press("Turn the correction off")
    assert "Corrected\\:" not in page.text
    assert "correction by photo and tape is off" in page.text
    assert 'pf-value">23.6 in' in page.text
    page.press("Turn the correction on")
    page.enter("segmented_control", "Your decision", "accept")
    page.press("Accept the corrected estimate")
    answer = book.case(case.case_id).content.answer
    assert answer.mean_mm == pytest.approx(25.4 * told_in, abs=1.3)
    assert answer.warnings[-1].code == "corrected"
