"""WCAG 2.2 A and AA as far as a program can judge it: contrast, names, roles, order of headings.

Judged by axe-core (Deque), an outside rule set.
"""

import pytest

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


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_parents_page(visit):
    visit.enter("Reading 1", "23.5")
    visit.see(".pf-bike")
    for heading in (
        "How to take the picture",
        "Trousers",
        "What leaves it unsure",
        "Does the bicycle",
        "Fit card",
        "Let the shop",
    ):
        visit.open(heading)
    assert faults(visit) == []


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_the_gift_buyers_page(visit):
    visit.go("A present")
    visit.tab.get_by_text("I am the child’s parent or guardian").click()
    visit.settle()
    visit.enter("Inside seam of trousers", "52 cm")
    visit.see_text("Agree with the shop")
    assert faults(visit) == []


@pytest.mark.parametrize("visit", ["desk"], indirect=True)
def test_the_staff_side(visit):
    visit.go("For the shop")
    assert faults(visit) == []
    visit.tab.get_by_role("textbox", name="Name").fill("Kim")
    visit.tab.get_by_role("textbox", name="Passphrase").fill(PASSPHRASE)
    visit.press("Sign in")
    visit.see_text("waiting, longest first")
    assert faults(visit) == []
