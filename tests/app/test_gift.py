"""The gift buyer's page, control by control, without a browser."""

import datetime as dt
import re

import pytest

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.card.from_fit import fit_card
from pose_fit.fit.choice import choose
from pose_fit.fit.judge import judge

DAY = dt.date.today() + dt.timedelta(days=60)


@pytest.fixture
def page(open_page):
    page = open_page("gift")
    return page.enter("checkbox", "I am the child’s parent", True)


def clues(page, *kinds: str):
    return page.enter("button_group", "What do you have?", list(kinds))


def test_nothing_is_asked_before_a_parent_or_guardian_says_so(open_page):
    page = open_page("gift")
    assert "Only for the child’s parent or guardian" in page.text
    assert not page.app.file_uploader
    assert not page.app.number_input


def test_trousers_and_age_are_weighted_by_how_sure_they_are(page):
    clues(page, "trousers", "size")
    page.enter("text_input", "Inside seam", "22 in")
    assert "From one clue" in page.text
    page.enter("number_input", "Age in years", 7.0)
    rows = re.findall(
        r'<th scope="row">([\w ]+)</th><td>[^<]*</td><td>(\d+) mm</td><td>(\d+)%', page.text
    )
    found = {name: (int(sd), int(weight)) for name, sd, weight in rows}
    assert set(found) == {"Trousers that fit", "Age"}
    assert found["Trousers that fit"][0] < found["Age"][0]
    assert found["Trousers that fit"][1] > found["Age"][1]
    assert sum(weight for _, weight in found.values()) == pytest.approx(100, abs=1)


def test_a_clue_that_no_child_of_that_age_can_give_is_asked_about(page):
    clues(page, "trousers", "size")
    page.enter("text_input", "Inside seam", "30 in")
    page.enter("number_input", "Age in years", 4.0)
    assert "Is this the inseam?" in page.text
    assert "Check each clue" in page.text
    assert 'pf-inseam"><span>' not in page.text
    page.enter("number_input", "Age in years", 12.0)
    assert "Is this the inseam?" not in page.text


def test_legs_are_longer_on_a_later_day_and_the_months_are_said(page):
    def inches() -> float:
        return float(re.search(r'pf-value">([\d.]+) in', page.text).group(1))

    clues(page, "trousers", "size")
    page.enter("text_input", "Inside seam", "22 in")
    page.enter("number_input", "Age in years", 6.0)
    today = inches()
    page.enter("date_input", "Day of the present", dt.date.today() + dt.timedelta(days=365))
    # Leg growth at 6 years is 3.4 to 4.1 cm a year (medians of published cross sections).
    assert 1.0 < inches() - today < 2.2
    assert "in 12 months" in page.text
    assert "Inseam on that day" in page.text
    assert "The legs grow by about" in page.text


def test_the_present_bicycle_with_a_lift_is_a_clue(page):
    clues(page, "bicycle")
    page.enter("text_input", "Marking on the tyre", "47-406")
    page.enter("text_input", "Standover", "500 mm")
    page.enter("text_input", "Lift until", "60 mm")
    # 500 + 60 - 15 mm of sole.
    assert "21.5 in" in page.text
    assert "From one clue: bicycle" in page.text
    # For today nothing is told of another day.
    assert "Inseam on that day" not in page.text
    assert "After that" not in page.text


def test_a_robust_choice_comes_with_what_to_agree_on(page):
    clues(page, "bicycle")
    page.enter("text_input", "Marking on the tyre", "47-406")
    page.enter("text_input", "Standover", "500 mm")
    page.enter("text_input", "Lift until", "60 mm")
    assert "Fits on the day:" in page.text
    assert "Agree with the shop before you pay" in page.text
    assert "If it turns out too small" in page.text


def test_per_cents_stand_among_the_folded_numbers_alone(page):
    clues(page, "trousers", "size")
    page.enter("text_input", "Inside seam", "22 in")
    page.enter("number_input", "Age in years", 6.0)
    folded = "\n".join(
        element.value
        for part in page.app.expander
        for kind in (part.markdown, part.caption)
        for element in kind
    )
    assert "Fits on the day:" in folded
    # Alone among what is not folded: the list of what to agree on.
    listed = page.text.split("Agree with the shop")[1].split("</ul>")[0]
    assert "If it turns out too" in listed
    assert "%" not in listed
    assert page.text.count("Fits on the day:") == 1


def test_clues_that_do_not_go_together_are_told_below_the_answer_and_once_more_with_the_numbers(
    page,
):
    clues(page, "trousers", "bicycle")
    page.enter("text_input", "Inside seam", "16 in")
    page.enter("text_input", "Marking on the tyre", "47-406")
    page.enter("text_input", "Standover", "500 mm")
    page.enter("text_input", "Lift until", "60 mm")
    assert "How sure that it fits? <strong>Sure" not in page.text
    assert page.text.count('pf-notes"><li>') == 1
    assert sum("apart" in told.value for told in page.app.info) == 1


def test_answer_table_and_card_of_a_present_name_the_same_bicycle_first(page, monkeypatch):
    cards = []

    def kept(*given, **named):
        cards.append(fit_card(*given, **named))
        return cards[-1]

    monkeypatch.setattr("pose_fit.app.views.card_view.fit_card", kept)
    clues(page, "bicycle")
    page.enter("text_input", "Marking on the tyre", "47-406")
    page.enter("text_input", "Standover", "500 mm")
    page.enter("text_input", "Lift until", "60 mm")
    page.enter("date_input", "Day of the present", DAY)
    first_row = re.search(r'<tbody><tr><th scope="row">([^<]*)<', page.text).group(1)
    assert answer(page) == first_row == cards[-1].bicycles[0].name
    # The card says for which day its inseam is.
    assert cards[-1].inseam_on == DAY
    # A child who can try them would be told of another one first.
    fits = judge(cards[-1].inseam, read_catalogue(DEMO_CATALOGUE))
    assert choose(fits).best.bicycle.name != answer(page)


def test_a_vague_clue_alone_buys_nothing_unsafe(page):
    clues(page, "size")
    page.enter("number_input", "Age in years", 5.0)
    page.enter("radio", "Bicycles", "own")
    near = b"name,tyre,standover_mm,standover_source,frame\nNear 20,20 x 1.75,470,measured,level\n"
    page.upload("List of bicycles", ("near.csv", near, "text/csv"))
    assert "No bicycle is safe enough" in page.text


#: A balance bicycle that fits likelier and longer than the bicycle with pedals beside it.
BOTH_KINDS = (
    b"name,tyre,standover_mm,standover_source,frame,pedals,saddle_min_mm,saddle_max_mm\n"
    b"Push 12,12 1/2 x 2 1/4,270,measured,sloping,no,330,560\n"
    b"Pedals 14,14 x 1.75,345,measured,sloping,yes,425,560\n"
)


def test_a_child_of_four_and_a_half_gets_pedals_first_and_a_balance_bicycle_when_asked_for(page):
    clues(page, "trousers", "size")
    page.enter("number_input", "Age in years", 4.5)
    page.enter("text_input", "Inside seam", "400 mm")
    page.enter("radio", "Bicycles", "own")
    page.upload("List of bicycles", ("both.csv", BOTH_KINDS, "text/csv"))
    assert answer(page) == "Pedals 14"
    assert "A balance bicycle, which has no pedals, would fit too: **Push 12**" in page.text
    page.press("Show the balance bicycle")
    assert answer(page) == "Push 12"
    page.press("Show the bicycle with pedals")
    assert answer(page) == "Pedals 14"


def answer(page) -> str:
    return re.search(r'<h1 id="pf-answer">([^<]*)</h1>', page.text).group(1)
