"""WCAG 2.2 A and AA as far as a program can judge it: contrast, names, roles, order of headings.

Judged by axe-core (Deque), an outside rule set.
"""

from pathlib import Path

import pytest

from pose_fit.app.inputs.uploads import samples
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent
from pose_fit.inseam.inseam import Inseam

from .browser import PASSPHRASE, Visit

RULES = {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
#: Streamlit's hidden file input, out of the tab order; the button that opens it has a name.
VENDORS_OWN = 'input[data-testid="stFileUploaderDropzoneInput"]'


def faults(visit: Visit) -> list[str]:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    found = axe.run(visit.tab, options={"runOnly": RULES}).response["violations"]
    return [
        f"{fault['id']}: {node['html'][:120]}"
        for fault in found
        for node in fault["nodes"]
        if node["target"] != [VENDORS_OWN]
    ]


SAMPLES = {sample.path.stem: sample.path for sample in samples()}
TWO = Path(__file__).parents[1] / "doubtful" / "pictures" / "two_1.jpg"
SCHEMES = ("light", "dark")
FOLDS = (
    "Look closer",
    "Other bicycles",
    "How long it will last",
    "What was said or assumed",
    "Numbers for the curious",
    "Does the child’s own bicycle",
    "Fit card",
    "Let the shop",
)


def in_both_schemes(visit: Visit) -> list[str]:
    found = []
    for scheme in SCHEMES:
        visit.tab.emulate_media(color_scheme=scheme)
        visit.settle()
        found += [f"{scheme}: {fault}" for fault in faults(visit)]
    return found


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_parents_page_from_the_first_screen_to_the_answer_with_everything_unfolded(visit):
    assert in_both_schemes(visit) == []
    visit.open("How to take the picture")
    visit.open("Try it with a sample")
    assert faults(visit) == []
    visit.upload(SAMPLES["a4_1"])
    visit.see(".pf-answer")
    assert in_both_schemes(visit) == []
    for heading in FOLDS:
        visit.open(heading)
    assert in_both_schemes(visit) == []


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_parents_page_while_it_asks(visit):
    visit.upload(SAMPLES["door_1"])
    visit.see_text("What is beside the child?")
    assert in_both_schemes(visit) == []
    visit.press("Start again")
    visit.press("Use a tape instead")
    assert in_both_schemes(visit) == []


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
@pytest.mark.parametrize("picture", ["letter_2", "wheel_1"])
def test_each_question_before_the_answer(visit, picture):
    visit.upload(SAMPLES[picture])
    visit.see_text("One question first")
    visit.settle()
    assert in_both_schemes(visit) == []


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_which_child_of_two(visit):
    visit.upload(TWO)
    visit.see_text("Which child is to be measured?")
    visit.settle()
    assert in_both_schemes(visit) == []


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_parents_page_in_spanish(visit):
    visit.press("Español")
    visit.tab.wait_for_function("document.documentElement.lang === 'es'")
    assert in_both_schemes(visit) == []
    visit.upload(SAMPLES["a4_1"])
    visit.see(".pf-answer")
    for place in range(visit.tab.locator("summary").count()):
        visit.tab.locator("summary").nth(place).click()
        visit.settle()
    assert in_both_schemes(visit) == []


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_my_case(visit, book_place):
    with CaseBook(book_place) as book:
        case = book.receive(CaseContent(estimate=Inseam.stated(600.0, 8.0)), by="family")
    visit.go("My case")
    visit.enter("Reply code", case.reply_code)
    visit.see_text("Waiting.")
    assert in_both_schemes(visit) == []
    visit.press("Español")
    visit.see_text("En espera.")
    assert in_both_schemes(visit) == []


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_gift_buyers_page(visit):
    visit.go("A present")
    assert faults(visit) == []
    visit.tab.get_by_text("I am the child’s parent or guardian").click()
    visit.settle()
    visit.tab.get_by_test_id("stButtonGroup").get_by_text("Trousers that fit").click()
    visit.settle()
    for clue in ("The bicycle it rides now", "Body height or age"):
        visit.tab.get_by_test_id("stButtonGroup").get_by_text(clue).click()
        visit.settle()
    visit.enter("Inside seam of trousers", "62 cm")
    visit.see(".pf-answer")
    assert in_both_schemes(visit) == []


@pytest.mark.parametrize("visit", ["desk"], indirect=True)
def test_the_staff_side(visit, book_place):
    with CaseBook(book_place) as book:
        case = book.receive(CaseContent(estimate=Inseam.stated(600.0, 8.0)), by="family")
    visit.go("For the shop")
    assert faults(visit) == []
    visit.tab.get_by_role("textbox", name="Name").fill("Kim")
    visit.tab.get_by_role("textbox", name="Passphrase").fill(PASSPHRASE)
    visit.press("Sign in")
    visit.see_text("waiting, longest first")
    assert in_both_schemes(visit) == []
    visit.press(f"Case {case.case_id}.")
    visit.see_text("Is this inseam right?")
    assert in_both_schemes(visit) == []
