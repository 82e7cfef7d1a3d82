"""The three journeys in a real browser, from upload to fit card, at phone and desk width."""

import datetime as dt
import io
import re
from pathlib import Path
from typing import Any

import pypdf
import pytest

from pose_fit.app.inputs.uploads import samples
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.decision import Accepted

from .browser import PASSPHRASE

SAMPLES = {sample.path.stem: sample for sample in samples()}


def test_parent_from_upload_to_fit_card(visit):
    assert visit.download("Print the sheet (PDF)").startswith(b"%PDF")
    visit.upload(SAMPLES["a4_1"].path)
    visit.see(".pf-answer")
    visit.open("What was said or assumed")
    visit.enter("Age in years", "4.5")
    visit.picture("parent")
    assert visit.overflow_px() <= 0
    visit.open("How long it will last")
    visit.see("img[alt^='Growth chart']")
    visit.open("Does the child’s own bicycle still fit?")
    visit.enter("Marking on the tyre", "47-406")
    visit.enter("Standover", "500 mm")
    visit.see_text("The present bicycle")
    visit.open("Fit card to keep or print")
    visit.enter("Name or words on the card", "Robin")
    card = pypdf.PdfReader(io.BytesIO(visit.download("PDF, Letter")))
    assert "Robin" in card.pages[0].extract_text()
    visit.picture("parent_end")
    assert visit.overflow_px() <= 0


def pick_object(visit, name: str) -> None:
    visit.tab.get_by_test_id("stButtonGroup").get_by_text(name, exact=True).click()
    visit.settle()


@pytest.mark.parametrize("visit", ["desk"], indirect=True)
def test_parent_marks_a_door_by_clicking(visit):
    door = SAMPLES["door_1"]
    visit.upload(door.path)
    visit.see_text("What is beside the child?")
    pick_object(visit, "A door")
    visit.enter("Height of the door", door.truth["size"])
    frame = visit.tab.frame_locator("iframe").first
    corners = [place.split(",") for place in door.truth["points"].split()]
    names = ("top left", "top right", "bottom right", "bottom left")
    for name, (x_px, y_px) in zip(names, corners, strict=True):
        visit.see_text(f"Click in the picture: {name} corner")
        image, (width, _) = drawn_image(frame)
        scale = width / width_px(door.path)
        image.click(position={"x": float(x_px) * scale, "y": float(y_px) * scale})
        visit.settle()
    visit.see(".pf-answer")
    told = float(visit.tab.locator(".pf-value").first.inner_text().split()[0])
    assert told == pytest.approx(door.truth["inseam_mm"] / 25.4, abs=2)


def test_parent_clicks_the_crotch(visit):
    visit.upload(SAMPLES["sheet_3"].path)
    visit.see(".pf-answer")
    visit.open("Look closer")
    visit.tab.get_by_text("Put marks right").click()
    visit.settle()
    frame = visit.tab.frame_locator("iframe").first
    image, (width, height) = drawn_image(frame)
    before = visit.tab.locator(".pf-value").first.inner_text()
    # Well below the crotch, in a crop from above the hips to below the feet.
    image.click(position={"x": width / 2, "y": height * 0.38})
    visit.tab.locator("button:enabled", has_text="Take this one back").wait_for()
    visit.settle()
    visit.picture("correcting")
    assert visit.overflow_px() <= 0
    assert visit.tab.locator(".pf-value").first.inner_text() != before
    visit.press("Take this one back")
    visit.tab.locator("button:disabled", has_text="Take this one back").wait_for()
    assert visit.tab.locator(".pf-value").first.inner_text() == before


def drawn_image(frame: Any) -> tuple[Any, tuple[float, float]]:
    """The picture to click at once its size stays, and that width and height in the page's pixels."""
    image = frame.locator("#image")
    image.wait_for()
    size = image.evaluate(
        """image => new Promise((done) => {
          let last = '', frames = 0;
          const look = () => {
            const size = image.complete && image.naturalWidth ? [image.width, image.height] : [];
            frames = size.length && `${size}` === last ? frames + 1 : 0;
            last = `${size}`;
            if (frames > 20) { done(size); } else { requestAnimationFrame(look); }
          };
          look();
        })"""
    )
    return image, tuple(size)


def width_px(path: Path) -> int:
    from PIL import Image

    with Image.open(path) as image:
        return image.width


def test_gift_buyer_from_an_old_picture_to_an_exchange(visit):
    visit.go("A present")
    visit.see_text("Only for the child’s parent or guardian")
    visit.tab.get_by_text("I am the child’s parent or guardian").click()
    visit.settle()
    for clue in ("A picture", "Trousers that fit", "Body height or age"):
        pick_object(visit, clue)
    visit.enter("Age in years", "4.5")
    visit.enter_day("Day of the present", dt.date.today() + dt.timedelta(days=60))
    visit.upload(SAMPLES["sheet_3"].path)
    visit.see(".pf-picture")
    visit.enter("Inside seam of trousers", "37 cm")
    visit.see_text("Agree with the shop before you pay")
    visit.see_text("in 2 months")
    visit.picture("gift")
    assert visit.overflow_px() <= 0
    visit.open("Fit card to keep or print")
    assert visit.download("PDF, A4").startswith(b"%PDF")


def test_staff_from_a_case_sent_in_to_accepting_it(visit, book_place):
    visit.upload(SAMPLES["sheet_3"].path)
    visit.see(".pf-answer")
    visit.open("Let the shop check it")
    label = f"order {visit.size}"
    visit.tab.get_by_label("A name or number").fill(label)
    visit.tab.get_by_text("Keep the picture with it").click()
    visit.press("Send to the shop")
    visit.see_text("Your reply code is")
    visit.go("For the shop")
    visit.tab.get_by_role("textbox", name="Name").fill("Kim")
    visit.tab.get_by_role("textbox", name="Passphrase").fill(PASSPHRASE)
    visit.press("Sign in")
    visit.see_text(label)
    visit.picture("staff_list")
    with CaseBook(book_place) as book:
        (case_id,) = (case.case_id for case in book.find() if case.content.label == label)
    visit.press(f"Case {case_id}, {label}")
    visit.see("img[alt^='The picture sent in with marks, face hidden']")
    visit.press("Accept the estimate")
    visit.tab.get_by_text("Reopen", exact=True).wait_for()
    visit.settle()
    visit.picture("staff")
    assert visit.overflow_px() <= 0
    visit.open("Fit card for the family")
    assert visit.download("PDF, Letter").startswith(b"%PDF")
    with CaseBook(book_place) as book:
        case = book.case(case_id)
        assert isinstance(case.content.decision.verdict, Accepted)
        jpeg = book.picture(case.case_id)
        assert b"Exif" not in jpeg
        assert "gave out" not in str(book.history(case.case_id)[0])
    # The upload was never written anywhere, and of what was kept nothing stays.
    upload = SAMPLES["sheet_3"].path.read_bytes()
    before = files_below(book_place.parent)
    assert label.encode() in before
    assert pieces_in(before, jpeg) > 0.9
    assert pieces_in(before, upload) == 0
    visit.tab.get_by_text("Delete", exact=True).click()
    visit.settle()
    visit.enter(f"Type {case.case_id}", str(case.case_id))
    visit.press("Delete for good")
    visit.see_text("is deleted")
    after = files_below(book_place.parent)
    assert label.encode() not in after
    assert pieces_in(after, jpeg) == pieces_in(after, upload) == 0


def files_below(folder: Path) -> bytes:
    return b"".join(path.read_bytes() for path in folder.rglob("*") if path.is_file())


def pieces_in(files: bytes, data: bytes) -> float:
    """Share of pieces that are found, the tables at the front of a JPEG left out."""
    places = range(2000, len(data) - 40, len(data) // 100)
    return sum(data[place : place + 40] in files for place in places) / len(places)


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_a_reload_loses_nothing(visit):
    visit.measure_by_tape("23.5")
    visit.open("Let the shop check it")
    visit.tab.get_by_label("A name or number").fill("before the reload")
    visit.press("Send to the shop")
    visit.see_text("Your reply code is")
    visit.tab.reload()
    visit.see(".pf-answer")
    visit.tab.wait_for_function(
        "document.querySelector('input[aria-label^=\"Reading 1\"]').value === '23.5'"
    )
    visit.tab.get_by_text("Your reply code is").wait_for(state="visible")
    assert visit.tab.get_by_label("A name or number").input_value() == "before the reload"
    assert re.search(r"visit=[\w-]{22}", visit.tab.url)
