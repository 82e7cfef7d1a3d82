"""The parent's page, control by control, without a browser."""

import re

import pytest

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE

from .app_page import Page

CSV = "text/csv"
JPEG = "image/jpeg"
TITLE = "Which bicycle fits?"


def value_in(page: Page) -> list[float]:
    """The inseams that are shown large, inches, in order."""
    return [float(v) for v in re.findall(r'pf-value">([\d.]+) in', page.text)]


def tape(page: Page, *readings: str) -> Page:
    """Measure with a tape instead."""
    if "Measure with a tape" not in page.text:
        page.press("Use a tape instead")
    for number, reading in enumerate(readings, start=1):
        page.widget("text_input", f"Reading {number}").set_value(reading)
    return page.press("Show the answer")


def test_the_first_screen_asks_for_pictures_or_a_tape_and_for_nothing_else(page):
    assert TITLE in page.text
    assert len(page.app.file_uploader) == 1
    assert not page.app.text_input
    assert not page.app.number_input
    assert not page.app.checkbox
    assert not page.app.radio


def test_a_tape_reading_alone_leads_to_the_answer(page):
    tape(page, "23 1/2")
    assert value_in(page) == [23.5]
    assert "Try this one first" in page.text
    assert "How sure that it fits?" in page.text
    assert "Next size up" in page.text
    assert "with an adult holding it" in page.text


def test_what_to_be_careful_about_with_the_bicycle_that_is_named_is_said(page):
    """As in the terminal; a rising top tube leaves less room to whoever slides forward."""
    page.press("Use a tape instead")
    page.enter("text_input", "Reading 1", "24 in")
    named = re.search(r'<h1 id="pf-answer">([^<]*)</h1>', page.text).group(1)
    said = page.text.split('<ul class="pf-cautions">')[1]
    assert f"<li>{named}: " in said
    assert "Stand over it just ahead of the saddle" in said
    # On tiptoe is how it is sat on, never how it is stood over.
    assert "seated, the toes reach the ground" in page.text
    assert "right in about 1 months" not in page.text


def test_a_number_follows_the_unit_chosen_and_a_unit_behind_it_counts(page):
    page.press("centimetres first")
    tape(page, "59.7", "23.5 in")
    assert 'pf-value">59.7 cm' in page.text
    page.press("inches first")
    assert 'pf-value">23.5 in' in page.text


def test_a_number_in_the_other_unit_is_asked_about(page):
    """The commonest slip: centimetres where inches stand, or the other way round."""
    page.press("Use a tape instead")
    page.enter("text_input", "Reading 1 (in)", "64,5")
    assert "Did you mean 64,5 cm?" in page.text
    assert "whole height" not in page.text
    assert "Try this one first" not in page.text
    page.enter("text_input", "Reading 1", "64,5 cm")
    assert "Did you mean" not in page.text
    assert "Try this one first" in page.text


def test_inches_where_centimetres_stand_name_no_bicycle(page):
    page.press("centimetres first")
    page.press("Use a tape instead")
    page.enter("text_input", "Reading 1 (cm)", "25.5")
    assert "Did you mean 25.5 in?" in page.text
    assert 'id="pf-answer"' not in page.text
    # With its unit it counts as it stands.
    page.enter("text_input", "Reading 1 (cm)", "29 cm")
    assert "Did you mean" not in page.text
    assert 'id="pf-answer"' in page.text


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("tall", "is not a length"),
        ("300", "Did you mean 300 mm?"),
        ("300 in", "A tape reading of an inseam lies between"),
        ("-4", "is not a length"),
    ],
)
def test_a_slip_in_one_field_is_said_and_the_others_are_kept(page, typed, said):
    tape(page, "23.5", typed)
    assert said in page.text
    assert page.widget("text_input", "Reading 1").value == "23.5"
    assert page.widget("text_input", "Reading 2").value == typed


def test_the_whole_height_taken_for_the_inseam_is_questioned(page):
    tape(page, "43.3")
    page.enter("number_input", "Age in years", 5.0)
    assert "whole height" in page.text


def test_no_bicycle_for_legs_that_no_child_of_that_age_has(page):
    tape(page, "29 1/2")
    assert "Try this one first" in page.text
    page.enter("number_input", "Age in years", 5.0)
    assert "Is this the inseam?" in page.text
    assert "Measure again" in page.text
    assert "Try this one first" not in page.text
    assert not value_in(page)
    # Why, and once only, though the form of the tape stands below.
    assert page.text.count("longer than expected") == 1
    assert page.widget("text_input", "Reading 1").value == "29 1/2"
    page.enter("number_input", "Age in years", 12.0)
    assert "Try this one first" in page.text


def test_a_clothing_size_asks_for_the_age_before_any_bicycle(page):
    tape(page, "43.3")
    assert "enter the age" in page.text
    assert "Try this one first" not in page.text


def test_a_hasty_reading_has_the_wider_interval(page):
    def width() -> float:
        low, high = re.search(r"between ([\d.]+) in .*? and ([\d.]+) in", page.text).groups()
        return float(high) - float(low)

    tape(page, "23.5")
    careful = width()
    page.widget("radio", "Measured").set_value("hasty")
    page.press("Show the answer")
    assert width() > 1.5 * careful


def test_skill_sole_and_stretch_each_turn_a_near_case(page):
    """20 mm over a level bar: off it, but under the inch that is wanted."""
    tape(page, "600 mm", "600 mm", "600 mm")
    page.enter("radio", "Bicycles", "own")
    near = b"name,tyre,standover_mm,standover_source,frame\nNear 24,24 x 1.75,595,measured,level\n"
    page.upload("List of bicycles", ("near.csv", near, CSV))
    assert "None of these fits" in page.text
    page.enter("toggle", "Accept a little less", True)
    assert "None of these fits" not in page.text
    page.enter("toggle", "Accept a little less", False)
    page.enter("text_input", "Sole of the riding shoe", "1.6")
    assert "1.6 in (4.1 cm)" in page.text
    assert "None of these fits" not in page.text
    page.enter("selectbox", "How the child rides", "off_road")
    assert "None of these fits" in page.text


def test_soles_that_no_shoe_has_are_said_and_the_usual_ones_count(page):
    tape(page, "600 mm")
    usual = value_in(page), page.text.count("above the top tube")
    page.enter("text_input", "Sole of the riding shoe", "4")
    assert "found 101.6 mm" in page.text.replace("\\", "")
    assert (value_in(page), page.text.count("above the top tube")) == usual
    assert page.widget("text_input", "Sole of the riding shoe").value == "4"


def test_an_own_list_with_a_fault_names_line_and_column_then_a_good_one_is_judged(page):
    tape(page, "23.5")
    page.enter("radio", "Bicycles", "own")
    bad = b"name,tyre,standover_mm\nLarkum 20,20 x 1.75,high\n"
    page.upload("List of bicycles", ("shop.csv", bad, CSV))
    assert "shop.csv, line 2, column standover_mm" in page.text
    good = b"name,tyre,standover_in\nLarkum <b>20</b>,20 x 1.75,19.5\n"
    page.upload("List of bicycles", ("shop.csv", good, CSV))
    assert "Larkum &lt;b&gt;20&lt;/b&gt;" in page.text
    assert "<b>20</b>" not in page.text.replace("Larkum &lt;", "")
    page.upload("List of bicycles", ("shop.csv", b"\xff\xfe\x00", CSV))
    assert "not UTF-8" in page.text


def test_every_bicycle_of_the_list_is_in_the_table(page):
    tape(page, "23.5")
    stock = len(DEMO_CATALOGUE.read_text().strip().splitlines()) - 1
    body = page.text.split("How long</th>")[1].split("</tbody>")[0]
    assert body.count('<th scope="row">') == stock


def test_no_reassuring_word_stands_on_a_bicycle_that_is_not_recommended(page):
    from pose_fit.app.views.bicycle_words import word
    from pose_fit.bicycle.catalogue import read_catalogue
    from pose_fit.fit.judge import judge
    from pose_fit.inseam.inseam import Inseam

    bicycles = read_catalogue(DEMO_CATALOGUE)
    for mean_mm in range(350, 900, 25):
        for sd_mm in (3, 12, 30):
            for fit in judge(Inseam.stated(mean_mm, sd_mm), bicycles):
                if not fit.recommended:
                    assert "fits" not in word(fit)


def test_a_file_that_is_no_picture_is_said_by_its_name(page):
    page.upload("Take or choose pictures", ("notes.jpg", b"not a picture", JPEG))
    assert "notes.jpg: not a picture" in page.text.replace("\\", "")
    # Nothing lies over the words: the first screen is there again.
    assert 'class="pf-measuring' not in page.text
    assert 'class="pf-opening"' in page.text
    assert "/proc" not in page.text
    assert TITLE in page.text


def test_a_picture_without_a_person_is_refused_kindly_with_what_to_do(page, empty_wall):
    page.upload("Take or choose pictures", ("wall.jpg", empty_wall, JPEG))
    assert "No answer yet" in page.text
    assert "No person was found" in page.text
    assert "What helps" in page.text
    page.press("Remove")
    assert "wall.jpg" not in page.text
    assert TITLE in page.text


def test_start_again_leads_back_to_the_first_screen_and_forgets(page):
    tape(page, "23.5")
    page.press("Start again")
    assert TITLE in page.text
    page.press("Use a tape instead")
    assert not page.widget("text_input", "Reading 1").value


def test_each_visitor_has_a_session_of_their_own(open_page):
    first, second = open_page(), open_page()
    tape(first, "23.5")
    assert value_in(second.run()) == []


def test_the_child_present_bicycle_is_judged(page):
    tape(page, "23.5")
    page.enter("text_input", "Marking on the tyre", "47-406")
    assert "Still needed" in page.text
    page.enter("text_input", "Standover", "500 mm")
    assert "The present bicycle" in page.text


def test_everything_is_said_in_spanish_when_it_is_chosen(page):
    page.press("Español")
    assert "¿Qué bicicleta le queda bien?" in page.text
    page.press("Usar una cinta")
    page.widget("text_input", "Medida 1").set_value("60 cm")
    page.press("Ver la respuesta")
    assert "Pruebe primero esta" in page.text
    assert "Entrepierna" in page.text
    page.press("English")
    assert "Try this one first" in page.text


def test_after_one_reading_the_tape_is_asked_for_again_and_after_three_no_more(page):
    page.press("Use a tape instead")
    page.enter("text_input", "Reading 1", "23.5 in")
    assert "Measure again with the tape" in page.text
    page.enter("text_input", "Reading 2", "23.6 in")
    page.enter("text_input", "Reading 3", "23.4 in")
    assert "Measure again with the tape" not in page.text
    assert "Nothing more to measure" in page.text


def test_readings_too_far_apart_are_a_question_and_no_average(page):
    """At 22 in the bar of what their average would fit touches."""
    page.press("Use a tape instead")
    for number, typed in enumerate(("25.5 in", "25.4 in", "22 in"), start=1):
        page.enter("text_input", f"Reading {number}", typed)
    assert "Reading 3" in page.text
    assert "measure again" in page.text
    assert "Try this one first" not in page.text
    page.enter("text_input", "Reading 3", "25.3 in")
    assert "Try this one first" in page.text


def test_the_inseam_says_how_far_off_it_may_be(page):
    """The word beside it is for the bicycle: it is not how well the legs are known."""
    page.press("Use a tape instead")
    page.enter("text_input", "Reading 1", "23.5 in")
    low, high = map(
        float, re.search(r"between ([\d.]+) in .*? and ([\d.]+) in", page.text).groups()
    )
    half = float(re.search(r"give or take ([\d.]+) in", page.text).group(1))
    assert half == pytest.approx((high - low) / 2, abs=0.11)


def test_each_source_of_doubt_is_listed_once_and_what_is_small_together(page):
    page.enter("selectbox", "Sample picture", "a4_1")
    page.press("Measure this sample")
    numbers = next(part for part in page.app.expander if part.label == "Numbers for the curious")
    told = "".join(element.proto.body for element in numbers.get("html"))
    rows = re.findall(r'<th scope="row">([^<]*)</th><td>([\d.]+) mm</td><td>(\d+)%', told)
    names = [name for name, _, _ in rows]
    assert len(names) == len(set(names))
    assert "everything else" in names
    assert min(int(share) for name, _, share in rows if name != "everything else") >= 1
    assert sum(int(share) for _, _, share in rows) == pytest.approx(100, abs=5)
