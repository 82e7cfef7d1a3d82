"""The parent's page in a real browser: nothing leaves the machine, keyboard and alternatives."""

import pytest


def test_a_tape_reading_leads_to_bicycles_and_nothing_leaves_the_machine(visit):
    visit.enter("Reading 1", "23.5")
    visit.tab.wait_for_selector(".pf-bike")
    visit.picture("tape")
    assert visit.overflow_px() <= 0
    assert visit.called
    assert all(url.startswith((visit.address, "data:", "blob:")) for url in visit.called)


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_every_picture_has_a_text_alternative(visit):
    visit.enter("Reading 1", "23.5")
    visit.tab.wait_for_selector(".pf-bike")
    images = visit.tab.locator("[data-testid=stMain] img")
    assert images.count() > 3
    assert all(images.nth(n).get_attribute("alt") is not None for n in range(images.count()))
    told = [images.nth(n).get_attribute("alt") for n in range(images.count())]
    assert any("Clearance" in alt and "Chances:" in alt for alt in told)


@pytest.mark.parametrize("visit", ["desk"], indirect=True)
def test_the_form_is_filled_by_keyboard_alone(visit):
    visit.tab.get_by_label("Reading 1").focus()
    visit.tab.keyboard.type("23.5")
    visit.tab.keyboard.press("Tab")
    visit.settle()
    visit.tab.wait_for_selector(".pf-value")
    focused = visit.tab.evaluate("document.activeElement.getAttribute('aria-label')")
    assert focused.startswith("Reading 2")
