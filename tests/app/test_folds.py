"""Parts that fold, in a real browser: a press is the browser's own affair."""

import pytest


@pytest.mark.parametrize("visit", ["desk"], indirect=True)
def test_a_part_pressed_while_the_page_answers_stays_as_it_was_left(visit):
    """Neither does the press begin the answer anew, nor does the answer fold the part back."""
    visit.measure_by_tape("21 in")
    visit.open("What was said or assumed")
    for pressed in range(6):
        age = visit.tab.get_by_role("spinbutton", name="Age in years").first
        asked = visit.talk.asked
        age.fill(f"{5 + pressed}")
        age.press("Enter")
        visit.tab.wait_for_timeout(60 * pressed)
        visit.tab.locator("summary", has_text="Numbers for the curious").click()
        visit.settle()
        # The age asks for an answer, the press for none.
        assert visit.talk.asked == asked + 1
        assert is_open(visit, "Numbers for the curious") is (pressed % 2 == 0)
        assert is_open(visit, "What was said or assumed")


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_tape_folds_away_once_a_reading_is_there_and_opens_again(visit):
    visit.measure_by_tape("21 in")
    assert not is_open(visit, "Measure with a tape")
    visit.open("Measure with a tape")
    visit.enter("Reading 2", "21.5 in")
    visit.press("Show the answer")
    assert is_open(visit, "Measure with a tape")


def is_open(visit, heading: str) -> bool:
    summary = visit.tab.locator("summary", has_text=heading)
    return visit.tab.locator("details", has=summary).first.get_attribute("open") is not None
