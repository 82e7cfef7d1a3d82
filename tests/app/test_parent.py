"""The parent's page, control by control, without a browser."""

import re

import pytest

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE

CSV = "text/csv"
JPEG = "image/jpeg"


def value_in(page) -> list[float]:
    """The large inseams on the page, inches, in order."""
    return [float(v) for v in re.findall(r'pf-value">([\d.]+) in', page.text)]


def test_a_tape_reading_alone_leads_to_bicycles(page):
    assert "judged as soon as" in page.text
    page.enter("text_input", "Reading 1", "23 1/2")
    assert value_in(page) == [23.5]
    assert "Fernock" in page.text
    assert "standover" in page.text
    assert "does not replace standing over the bicycle" in page.text


def test_a_number_follows_the_unit_chosen_and_a_unit_behind_it_counts(page):
    page.enter("radio", "Numbers without a unit", "centimetres")
    page.enter("text_input", "Reading 1", "59.7")
    page.enter("text_input", "Reading 2", "23.5 in")
    assert value_in(page) == [23.5]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("tall", "no length"),
        ("300", "a tape reading of an inseam lies between"),
        ("-4", "no length"),
    ],
)
def test_a_slip_in_one_field_is_said_and_the_others_are_kept(page, typed, said):
    page.enter("text_input", "Reading 1", "23.5")
    page.enter("text_input", "Reading 2", typed)
    assert said in page.text
    assert page.widget("text_input", "Reading 1").value == "23.5"
    assert page.widget("text_input", "Reading 2").value == typed


def test_the_whole_height_taken_for_the_inseam_is_questioned(page):
    page.enter("number_input", "Age in years", 5.0)
    page.enter("text_input", "Reading 1", "43.3")
    assert "whole height" in page.text


def test_a_hasty_reading_has_the_wider_interval(page):
    def width() -> float:
        low, high = re.search(r"between ([\d.]+) in .*? and ([\d.]+) in", page.text).groups()
        return float(high) - float(low)

    page.enter("text_input", "Reading 1", "23.5")
    careful = width()
    page.enter("radio", "Taken", "hasty")
    assert width() > 1.5 * careful


def test_skill_sole_and_stretch_each_turn_a_near_case(page):
    """20 mm over a level bar: off it, but under the inch that is wanted."""
    for number in (1, 2, 3):
        page.enter("text_input", f"Reading {number}", "600 mm")
    page.enter("radio", "Bicycles", "A list of my own (CSV)")
    near = b"name,tyre,standover_mm,standover_source,frame\nNear 24,24 x 1.75,595,measured,level\n"
    page.upload("List of bicycles", ("near.csv", near, CSV))
    assert "None of these fits" in page.text
    page.enter("toggle", "Accept less", True)
    assert "None of these fits" not in page.text
    page.enter("toggle", "Accept less", False)
    page.enter("number_input", "Sole of the riding shoe", 40.0)
    assert "None of these fits" not in page.text
    page.enter("selectbox", "How the child rides", "off_road")
    assert "None of these fits" in page.text


def test_an_own_list_with_a_fault_names_line_and_column_then_a_good_one_is_judged(page):
    page.enter("text_input", "Reading 1", "23.5")
    page.enter("radio", "Bicycles", "A list of my own (CSV)")
    bad = b"name,tyre,standover_mm\nLarkum 20,20 x 1.75,high\n"
    page.upload("List of bicycles", ("shop.csv", bad, CSV))
    assert "shop.csv, line 2, column standover_mm" in page.text
    good = b"name,tyre,standover_in\nLarkum <b>20</b>,20 x 1.75,19.5\n"
    page.upload("List of bicycles", ("shop.csv", good, CSV))
    assert "Larkum &lt;b&gt;20&lt;/b&gt;" in page.text
    assert "<b>20</b>" not in page.text.replace("Larkum &lt;", "")
    page.upload("List of bicycles", ("shop.csv", b"\xff\xfe\x00", CSV))
    assert "no UTF-8" in page.text


def test_all_bicycles_of_the_list_can_be_shown(page):
    page.enter("text_input", "Reading 1", "23.5")
    few = page.text.count('class="pf-bike"')
    page.enter("toggle", "Show all", True)
    stock = len(DEMO_CATALOGUE.read_text().strip().splitlines()) - 1
    assert few < stock == page.text.count('class="pf-bike"')


def test_a_file_that_is_no_picture_is_said_by_its_name_and_the_tape_is_kept(page, empty_wall):
    page.enter("text_input", "Reading 1", "23.5")
    page.upload("Upload pictures", ("notes.jpg", b"not a picture", JPEG))
    assert "notes.jpg: not a picture" in page.text
    assert "/proc" not in page.text
    assert value_in(page) == [23.5]


def test_a_picture_without_a_person_is_refused_kindly_with_what_to_do(page, empty_wall):
    page.upload("Upload pictures", ("wall.jpg", empty_wall, JPEG))
    assert "wall.jpg cannot be measured" in page.text
    assert "No person was found" in page.text
    assert "What helps" in page.text
    page.press("Remove")
    assert "wall.jpg" not in page.text


def test_a_wheel_needs_its_code_and_an_ambiguous_name_is_not_guessed(page):
    page.enter("selectbox", "Object of known size", "wheel")
    assert page.widget("radio", "Where is it").value == "beside"
    page.enter("text_input", "Tyre size", "20 x 1 3/8")
    assert "Look for the code with the hyphen" in page.text
    page.enter("text_input", "Tyre size", "nonsense")
    assert page.app.error
    page.enter("text_input", "Tyre size", "47-406")
    assert "19.7 in (50.0 cm)" in page.text  # 406 + 2 * 47 mm, ISO 5775


def test_a_door_is_marked_by_typing_undone_and_cleared(page, empty_wall):
    page.upload("Upload pictures", ("wall.jpg", empty_wall, JPEG))
    page.enter("selectbox", "Object of known size", "door")
    assert "Click point 1 of 4: top left corner" in page.text
    for x, y in ((100, 50), (300, 50), (300, 550), (100, 550)):
        number = page.app.number_input
        blank = [w for w in number if w.value is None and "corner" in w.label and not w.disabled]
        blank[0].set_value(float(x))
        blank[1].set_value(float(y))
        page.run()
    assert "All points are marked" in page.text
    page.press("Undo last point")
    assert "Click point 4 of 4: bottom left corner" in page.text
    page.press("Clear all points")
    assert "Click point 1 of 4" in page.text


def test_each_visitor_has_a_session_of_their_own(open_page):
    first, second = open_page(), open_page()
    first.enter("text_input", "Reading 1", "23.5")
    assert value_in(second.run()) == []
