"""The parent's page in a real browser: nothing leaves the machine, keyboard and alternatives."""

from pathlib import Path

import pytest
import streamlit


def test_a_tape_reading_leads_to_bicycles_and_nothing_leaves_the_machine(visit):
    visit.measure_by_tape("23.5")
    visit.picture("tape")
    assert visit.overflow_px() <= 0
    assert visit.called
    assert all(url.startswith((visit.address, "data:", "blob:")) for url in visit.called)


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_every_picture_has_a_text_alternative(visit):
    visit.measure_by_tape("23.5")
    visit.open("How long it will last")
    visit.tab.wait_for_selector("img[alt^='Growth chart']")
    images = visit.tab.locator("[data-testid=stMain] img")
    assert images.count() > 2
    assert all(images.nth(n).get_attribute("alt") is not None for n in range(images.count()))
    told = [images.nth(n).get_attribute("alt") for n in range(images.count())]
    assert any("standing over" in alt and "Inseam" in alt for alt in told)


#: The name of the focused element, as a screen reader says it.
NAME = """(() => {
  const copy = document.activeElement.cloneNode(true);
  copy.querySelectorAll("[aria-hidden=true]").forEach((part) => part.remove());
  return (document.activeElement.getAttribute("aria-label") || copy.textContent || "").trim();
})()"""


def press_until(visit, name: str, *, most: int = 60) -> None:
    """Tab through the page to the element whose name begins so."""
    for _ in range(most):
        visit.tab.keyboard.press("Tab")
        focused = visit.tab.evaluate(NAME)
        if focused.startswith(name):
            shown = visit.tab.evaluate("getComputedStyle(document.activeElement).outlineStyle")
            assert shown != "none"
            return
    pytest.fail(f"{name} is not reached by the keyboard")


@pytest.mark.parametrize("visit", ["desk"], indirect=True)
def test_a_whole_journey_by_keyboard_alone(visit):
    press_until(visit, "Use a tape instead")
    visit.tab.keyboard.press("Enter")
    visit.settle()
    press_until(visit, "Reading 1")
    visit.tab.keyboard.type("23.5")
    press_until(visit, "Show the answer")
    visit.tab.keyboard.press("Enter")
    visit.settle()
    visit.see(".pf-answer")
    press_until(visit, "Other bicycles")
    visit.tab.keyboard.press("Enter")
    visit.settle()
    visit.see("table.pf-table")
    press_until(visit, "Let the shop check it")
    visit.tab.keyboard.press("Enter")
    visit.settle()
    press_until(visit, "A name or number")
    visit.tab.keyboard.type("by keyboard")
    # Enter in the field does not send.
    visit.tab.keyboard.press("Enter")
    visit.settle()
    assert visit.tab.get_by_text("Your reply code is").count() == 0
    press_until(visit, "Send to the shop")
    visit.tab.keyboard.press("Enter")
    visit.see_text("Your reply code is")


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_landmarks_and_one_heading_on_every_screen(visit):
    def check() -> None:
        assert visit.tab.locator("h1").count() == 1
        assert visit.tab.locator("main, [role=main]").count() >= 1

    check()
    visit.measure_by_tape("23.5")
    check()
    names = [link.inner_text().strip() for link in visit.tab.locator(".st-key-footer a").all()]
    assert names == ["My child", "A present", "My case", "For the shop"]


def test_the_links_and_buttons_of_the_footer_stand_on_one_line(visit):
    """Middles of what stands side by side; on a phone they may take several lines."""
    visit.see(".st-key-footer .stButton button")
    visit.settle()
    middles = visit.tab.evaluate(
        """() => [...document.querySelectorAll(
            '.st-key-footer [data-testid=stHorizontalBlock] a,'
            + '.st-key-footer [data-testid=stHorizontalBlock] button,'
            + '.st-key-footer [data-testid=stPageLink] a, .st-key-footer .stButton button')]
          .map((part) => part.getBoundingClientRect())
          .map((box) => (box.top + box.bottom) / 2)"""
    )
    assert len(middles) >= 6
    lines: list[float] = []
    for middle in sorted(middles):
        if not lines or middle - lines[-1] > 24:
            lines.append(middle)
        assert middle - lines[-1] < 1.5


def test_streamlit_still_says_what_the_page_replaces():
    folder = Path(streamlit.__file__).parent / "static" / "static" / "js"
    assert any("Connection error" in script.read_text("utf-8") for script in folder.glob("*.js"))


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_a_lost_connection_is_told_in_the_visitors_words(visit):
    visit.tab.evaluate(
        """() => document.body.insertAdjacentHTML('beforeend',
          '<section role="dialog"><h2>Connection error</h2><div>Streamlit server …</div></section>')"""
    )
    dialog = visit.tab.locator("section[role=dialog]")
    dialog.get_by_text("goes on by itself").wait_for(timeout=5_000)
    assert "Streamlit" not in dialog.inner_text()
