"""From the family's photo to the pair, the corrected estimate and the family's answer, in a browser.

On SQLite with one process, and on PostgreSQL with two processes of the app behind one proxy, of
which one is killed on the way.
"""

import datetime as dt
import re
from collections.abc import Iterator
from contextlib import ExitStack, closing
from dataclasses import dataclass

import psycopg
import pytest

from pose_fit.app.inputs.uploads import samples
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.events import TapeTaken
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask

from .branch_proxy import BranchProxy
from .browser import PASSPHRASE, Visit, visitor
from .served_app import ServedApp, served_app

SHEET = next(sample for sample in samples() if sample.path.stem == "sheet_1")
SEEDED = 12


def seed_pairs(book: CaseBook) -> None:
    """Children whose photos read 15 mm longer than the tape."""
    photo = Inseam(UncertainLength(600.0, (Contribution("posture", 12.0),)), "photo")
    record = PhotoRecord(
        width_px=3000,
        height_px=4000,
        task=PhotoTask(ReferenceRequest(kind="sheet")),
        result=photo,
    )
    today = dt.datetime.now(dt.UTC).date()
    for number in range(SEEDED):
        case = book.receive(CaseContent(estimate=photo, photos=(record,)), by="family")
        tape = ShopTape(readings_mm=(582.0 + number % 7,), taken_by="Ada", day=today)
        case = book.act(case, TapeTaken(tape), by="Ada")


def send_photo(visit: Visit, label: str) -> str:
    """The family's page, from a photo to the reply code."""
    visit.upload(SHEET.path)
    visit.press("Yes, both heels were down")
    visit.see(".pf-answer")
    visit.open("Let the shop check it")
    visit.tab.get_by_label("A name or number").fill(label)
    visit.tab.get_by_text("Keep the picture with it").click()
    visit.press("Send to the shop")
    visit.see_text("Your reply code is")
    told = visit.tab.get_by_text("Your reply code is").first.inner_text()
    return re.search(r"[0-9A-Z]{4}-[0-9A-Z]{4}", told).group()


def send_another(visit: Visit, code: str) -> None:
    """From the case's page back to measuring, and to the same case again."""
    visit.press("Measure and send another picture")
    # The picture that the shop has is gone from the page: the next one is asked for at once.
    visit.see_text("Take a picture of your child")
    visit.upload(SHEET.path)
    visit.press("Yes, both heels were down")
    visit.see(".pf-answer")
    visit.open("What was said or assumed")
    visit.enter("Age in years", "6.4")
    earlier = visit.tab.get_by_label("Reply code, if the shop asked")
    if not earlier.is_visible():
        visit.open("Let the shop check it")
    assert earlier.input_value() == code
    keep = visit.tab.get_by_role("checkbox", name="Keep the picture with it")
    if not keep.is_checked():
        visit.tab.get_by_text("Keep the picture with it").click()
    visit.press("Send to the shop")
    visit.see_text("Your reply code is")


def look_up(visit: Visit, code: str) -> None:
    visit.go("My case")
    visit.enter("Reply code", code)


def sign_in(visit: Visit, case_id: int) -> None:
    visit.tab.goto(f"{visit.address}/shop?case={case_id}")
    visit.tab.get_by_role("textbox", name="Name").fill("Kim")
    visit.tab.get_by_role("textbox", name="Passphrase").fill(PASSPHRASE)
    visit.press("Sign in")
    visit.see_text(f"Case {case_id}")


def choose(visit: Visit, words: str) -> None:
    visit.tab.get_by_role("radio", name=words).or_(
        visit.tab.get_by_role("button", name=words, exact=True)
    ).first.click()
    visit.settle()


@dataclass
class Shop:
    """Where the family and the staff go, the book, and what to kill half way."""

    family: str
    staff: str
    book: CaseBook
    first: ServedApp | None = None
    database: str = ""


@pytest.fixture
def sqlite_shop(tmp_path) -> Iterator[Shop]:
    place = tmp_path / "cases.db"
    with CaseBook(place) as book, served_app({"POSE_FIT_CASE_BOOK": str(place)}) as app:
        yield Shop(app.url, app.url, book)


@pytest.fixture
def branches(postgres, postgres_database) -> Iterator[Shop]:
    url = postgres.url(postgres_database)
    with ExitStack() as stack:
        # Both find an empty database, and make its tables once.
        apps = [stack.enter_context(served_app({"POSE_FIT_CASE_BOOK": url})) for _ in range(2)]
        north = stack.enter_context(closing(BranchProxy([app.port for app in apps])))
        south = stack.enter_context(closing(BranchProxy([app.port for app in apps[::-1]])))
        book = stack.enter_context(CaseBook(url))
        yield Shop(north.url, south.url, book, apps[0], url)


@pytest.fixture(params=["sqlite_shop", "branches"])
def shop(request: pytest.FixtureRequest) -> Shop:
    made: Shop = request.getfixturevalue(request.param)
    made.book.staff.add("Kim", PASSPHRASE)
    seed_pairs(made.book)
    return made


def test_from_photo_to_pair_to_corrected_estimate_to_the_familys_answer(shop, chromium):
    with visitor(chromium, shop.family) as family, visitor(chromium, shop.staff) as staff:
        follow_a_case(shop, family, staff)
    if shop.database:
        with psycopg.connect(shop.database) as connection:
            rows = connection.execute("SELECT version_num FROM alembic_version").fetchall()
        assert len(rows) == 1


def follow_a_case(shop: Shop, family: Visit, staff: Visit) -> None:
    code = send_photo(family, "Zephyrine order")
    case = shop.book.case_of_code(code)
    assert case.pictures == (0,)
    look_up(family, code)
    family.see_text("has not answered yet")
    family.picture("case_waiting")
    send_another(family, code)
    case = shop.book.case(case.case_id)
    assert [photo.set_aside for photo in case.content.photos] == [True, False]
    assert case.pictures == (0, 1)

    sign_in(staff, case.case_id)
    staff.see("img[alt^='The picture sent in with marks, face hidden']")
    staff.see_text(f"{SEEDED} children measured by photo")
    choose(staff, "Tape in the shop")
    staff.enter("Reading 1", "22.5 in")
    staff.enter("Who held the tape", "Sasha")
    staff.picture("shop_tape")
    staff.press("Keep the tape")
    staff.see_text("Tape in the shop: 22.5 in")
    # The pair is the next children's: it does not correct its own photo.
    staff.see_text(f"{SEEDED} children measured by photo")
    staff.press("Accept the corrected estimate")
    staff.see_text("The shop’s answer")
    staff.picture("shop_corrected")
    staff.press("Back to the list")
    choose(staff, "Photo and tape")
    staff.see_text(f"{SEEDED + 1} children")
    staff.picture("shop_pairs")
    case = shop.book.case(case.case_id)
    answer = case.content.answer
    assert answer.mean_mm < case.content.estimate.mean_mm - 5
    assert len(shop.book.pairs()) == SEEDED + 1

    if shop.first is not None:
        # The process that the family was at dies; the proxy sends it to the other one.
        shop.first.kill()
        family.arrive(shop.family)
    look_up(family, code)
    family.see_text("Answered")
    family.see_text(f"{answer.mean_mm / 10:.1f} cm")
    family.picture("case_answered")
    assert family.overflow_px() <= 0
    family.tab.get_by_text("Delete everything, for good").click()
    family.settle()
    family.press("Delete my case")
    family.see_text("Your case is deleted")
    assert family.tab.get_by_role("textbox", name="Reply code").input_value() == ""
    assert len(shop.book.pairs()) == SEEDED
    assert case.case_id not in [each.case_id for each in shop.book.find()]
