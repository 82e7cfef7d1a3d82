"""The answer first: one choice, progress in view, the answer on one screen, a short page."""

import time
from pathlib import Path

import pytest

from pose_fit.app.inputs.uploads import samples

from .browser import WATCH_FOR_SIGN

SAMPLES = {sample.path.stem: sample.path for sample in samples()}
#: Fields that a visitor would have to look at, the field for pictures left out.
FIELDS = (
    "[data-testid=stMain] input:not([type=file]):visible, [data-testid=stMain] textarea:visible"
)


def choose(visit, *paths: Path) -> None:
    visit.tab.locator("input[type=file]").first.set_input_files([str(path) for path in paths])


def bottom_px(visit, selector: str) -> float:
    box = visit.tab.locator(selector).first.bounding_box()
    assert box is not None
    return box["y"] + box["height"]


def height_px(visit) -> int:
    return visit.tab.viewport_size["height"]


def test_one_choice_and_no_field_from_opening_the_page_to_the_answer(visit):
    assert visit.tab.locator(FIELDS).count() == 0
    for name in ("Use a tape instead", "Print the sheet"):
        assert bottom_px(visit, f"button:has-text('{name}')") <= height_px(visit)
    visit.picture("opening")
    choose(visit, SAMPLES["a4_1"])
    visit.see(".pf-answer")
    assert visit.tab.locator(FIELDS).count() == 0
    assert visit.tab.evaluate("document.querySelector('[data-testid=stMain]').scrollTop") == 0
    # Bicycle, drawing, word, how sure, inseam, and what makes it surer.
    assert bottom_px(visit, ".pf-answer") <= height_px(visit)
    for part in ("h1", ".pf-badge", ".pf-sure", ".pf-value", "img.pf-drawing"):
        assert visit.tab.locator(f".pf-answer {part}").first.is_visible()
    assert bottom_px(visit, ".st-key-surer button") <= height_px(visit)
    visit.tab.screenshot()
    visit.picture("answer")
    assert visit.overflow_px() <= 0


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_page_is_at_most_three_screens_until_something_is_unfolded(visit):
    choose(visit, SAMPLES["a4_1"])
    visit.see(".pf-answer")
    block = "document.querySelector('[data-testid=stMainBlockContainer]').scrollHeight"
    assert visit.tab.evaluate(block) <= 3 * height_px(visit)


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_first_sign_of_progress_comes_at_once_and_in_view(visit):
    # The first picture of a process also loads the pose model.
    choose(visit, SAMPLES["a4_1"])
    visit.see(".pf-answer")
    waits_ms = []
    while min(waits_ms, default=1000.0) > 300:
        # Other programs may take the machine for a while, hardly each time.
        assert len(waits_ms) < 5, waits_ms
        visit.press("Start again")
        visit.see(".pf-opening")
        visit.tab.evaluate(WATCH_FOR_SIGN)
        choose(visit, SAMPLES["sheet_3"])
        visit.tab.wait_for_function("window.signs.length > 0")
        chosen_ms, (seen_ms, top, bottom) = visit.tab.evaluate("[window.chosen, window.signs[0]]")
        waits_ms.append(seen_ms - chosen_ms)
        assert 0 <= top < height_px(visit)
        assert bottom > top
        visit.see(".pf-answer")


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_three_pictures_stand_together_each_with_what_it_said(visit):
    choose(visit, SAMPLES["a4_1"], SAMPLES["sheet_2"], SAMPLES["sheet_3"])
    visit.see(".pf-pictures, .st-key-heels")
    if visit.tab.locator(".st-key-heels").count():
        visit.press("Yes, both heels were down")
    visit.see(".pf-pictures figure")
    assert visit.tab.locator(".pf-pictures figure").count() == 3
    visit.see_text("The pictures do not agree")
    assert visit.overflow_px() <= 0
    visit.picture("three")


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_print_shows_the_answer_and_not_the_form(visit):
    choose(visit, SAMPLES["a4_1"])
    visit.see(".pf-answer")
    visit.tab.emulate_media(media="print")
    assert visit.tab.locator(".pf-answer").is_visible()
    assert visit.tab.locator(".pf-cautions").is_visible()
    for selector in ("[data-testid=stFileUploader]", "summary", ".st-key-footer a", "button"):
        assert visit.tab.locator(f"[data-testid=stMain] {selector}:visible").count() == 0
    visit.tab.emulate_media(media="screen")


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_address_of_a_visit_opens_nothing_in_another_browser(visit, chromium):
    choose(visit, SAMPLES["a4_1"])
    visit.see(".pf-answer")
    address = visit.tab.url
    assert "visit=" in address
    other = chromium.new_context()
    try:
        tab = other.new_page()
        tab.goto(address)
        tab.wait_for_selector(".pf-opening", timeout=60_000)
        assert tab.locator("img.pf-picture").count() == 0
        assert tab.locator(".pf-answer").count() == 0
    finally:
        other.close()
    started_s = time.monotonic()
    visit.tab.reload()
    visit.see(".pf-answer")
    assert time.monotonic() - started_s < 60


def test_a_spanish_browser_reads_spanish(chromium, address):
    context = chromium.new_context(locale="es-MX", viewport={"width": 390, "height": 844})
    try:
        tab = context.new_page()
        tab.goto(address)
        tab.wait_for_selector("h1:has-text('¿Qué bicicleta le queda bien?')", timeout=60_000)
        tab.get_by_role("button", name="English").click()
        tab.wait_for_selector("h1:has-text('Which bicycle fits?')", timeout=60_000)
    finally:
        context.close()


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_a_file_that_no_picture_can_be_is_refused_in_view(visit, tmp_path):
    letter = tmp_path / "letter.pdf"
    letter.write_bytes(b"%PDF-1.4")
    choose(visit, letter)
    told = visit.tab.locator("[data-testid=stFileChip] [role=alert]")
    told.wait_for()
    words, width = told.evaluate(
        "part => [getComputedStyle(part, '::after').content, part.getBoundingClientRect().width]"
    )
    assert "short clips" in words
    assert width > 200
    # The button keeps its words, and the cross its own name.
    buttons = visit.tab.locator("[data-testid=stFileUploader] button")
    names = [button.get_attribute("aria-label") for button in buttons.all()]
    assert names == ["× letter.pdf", "Take or choose pictures"]
