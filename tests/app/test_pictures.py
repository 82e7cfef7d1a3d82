"""Pictures on the parent's page: samples, several at once, questions, points and joints put right."""

import base64
import io
import json
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from typer.testing import CliRunner

from pose_fit.app.inputs.uploads import SAMPLE_FOLDER, samples
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.cli.main import app
from pose_fit.photo.photo import read_photo
from tests.samples import heels_open

from .app_page import Page

SAMPLES = {sample.path.stem: sample for sample in samples()}
JPEG = "image/jpeg"


def interval_in(page: Page) -> tuple[float, float, float]:
    """The inseam shown large and its interval, inches."""
    value = float(re.search(r'pf-value">([\d.]+) in', page.text).group(1))
    low, high = re.search(r"between ([\d.]+) in .*? and ([\d.]+) in", page.text).groups()
    return value, float(low), float(high)


def pick(page: Page, stem: str) -> Page:
    page.enter("selectbox", "Sample picture", stem)
    return page.press("Measure this sample")


def own(page: Page, *stems: str, label: str = "Take or choose pictures") -> Page:
    files = [(f"{stem}.jpg", SAMPLES[stem].path.read_bytes(), JPEG) for stem in stems]
    page.upload(label, *files)
    return heels_down(page)


def heels_down(page: Page) -> Page:
    if "Were both heels on the floor" in page.text:
        page.press("Yes, both heels were down")
    return page


def test_the_samples_are_offered_with_what_is_true_of_them():
    assert len(SAMPLES) == len(list(SAMPLE_FOLDER.glob("*.jpg"))) > 0


@pytest.mark.parametrize("kind", sorted({sample.truth["reference"] for sample in samples()}))
def test_a_sample_of_each_kind_is_measured_by_one_choice(page, kind):
    """As the command line measures it with the arguments beside the picture."""
    sample = next(s for s in SAMPLES.values() if s.truth["reference"] == kind)
    pick(page, sample.path.stem)
    value, low, high = interval_in(page)
    call = [str(sample.path), *sample.truth["arguments"], "--json"]
    told = json.loads(CliRunner().invoke(app, ["measure", *call]).stdout)
    # The page shows tenths of an inch.
    assert value == pytest.approx(told["inseam_mm"] / 25.4, abs=0.06)
    assert (low, high) == pytest.approx([end / 25.4 for end in told["interval95_mm"]], abs=0.06)
    assert "face hidden" in page.text


def test_what_is_true_of_a_sample_leaves_with_it(page):
    pick(page, "sheet_1")
    alone = interval_in(page)[0]
    page.press("Start again")
    own(page, "sheet_1")
    # Nothing is said of one's own picture: no soles, no age, no heels.
    assert interval_in(page)[0] != alone
    assert page.widget("number_input", "Age in years").value is None
    assert page.widget("selectbox", "What is on the feet").value == "not_known"


def test_the_object_of_one_picture_is_not_asked_of_the_next(page):
    own(page, "door_1")
    page.enter("button_group", "What is beside the child?", "door")
    page.press("Start again")
    own(page, "sheet_3")
    assert "Try this one first" in page.text
    page.press("Remove")
    own(page, "door_1")
    assert page.widget("button_group", "What is beside the child?").value is None


def test_one_s_own_picture_takes_the_place_of_a_sample(page):
    pick(page, "sheet_1")
    own(page, "sheet_3", label="Add")
    assert "sheet_1.jpg" not in page.text
    assert page.widget("selectbox", "What is on the feet").value == "not_known"


def test_sheet_and_paper_are_found_without_being_named_or_asked_about(page):
    own(page, "sheet_1")
    assert "Try this one first" in page.text
    page.press("Start again")
    own(page, "letter_1")
    if "Try this one first" not in page.text:
        page.enter("button_group", "What is beside the child?", "letter")
    value, low, high = interval_in(page)
    assert low < SAMPLES["letter_1"].truth["inseam_mm"] / 25.4 < high
    assert value > 20


#: A question below the answer, a press that answers it, its field, and the field without an answer.
QUESTIONS = (
    (
        "What is on the feet in the picture?",
        "Barefoot or socks",
        "What is on the feet",
        "not_known",
    ),
    ("What is on the legs in the picture?", "Leggings or bare legs", "What is on the legs", None),
)


def test_an_answer_to_the_question_changes_the_estimate_and_is_not_asked_again(page):
    for stem in ("sheet_1", "sheet_3", "a4_1"):
        own(page, stem)
        asked = [question for question in QUESTIONS if f"{question[0]}**" in page.text]
        if asked:
            break
        page.press("Start again")
    assert len(asked) == 1, "one question at a time, at one of three children"
    before = interval_in(page)
    words, press, field, unknown = asked[0]
    page.press(press)
    heels_down(page)
    assert interval_in(page) != before
    assert f"{words}**" not in page.text
    page.enter("selectbox", field, unknown)
    assert interval_in(page) == before
    page.press("Start again")
    own(page, stem)
    assert interval_in(page) == before


@pytest.mark.parametrize("stem", ["a4_1", "letter_1", "sheet_1", "sheet_2"])
def test_what_is_called_sure_is_never_unsure_with_thick_soles_that_nobody_stated(page, stem):
    own(page, stem)
    if how_sure(page) != "sure":
        return
    page.enter("selectbox", "What is on the feet", "shoes")
    page.enter("text_input", "Their soles", "30 mm")
    heels_down(page)
    assert how_sure(page) == "sure"


def how_sure(page: Page) -> str:
    return re.search(r'pf-sure">[^<]*<strong>([^<]*)</strong>', page.text).group(1).lower()


def test_the_ruler_of_the_sheet_is_asked_for_where_its_size_matters_most(page):
    own(page, "sheet_2")
    page.enter("selectbox", "What is on the legs", "fitted")
    heels_down(page)
    if "What is on the feet in the picture?**" in page.text:
        page.press("Shoes")
    before = interval_in(page)
    page.press("Measure the ruler on the printed sheet")
    page.enter("number_input", "The ruler on your printed sheet", 174.5)
    after = interval_in(page)
    assert after[2] - after[1] < before[2] - before[1]


def test_a_tape_that_agrees_and_one_that_does_not_are_told_apart(page):
    pick(page, "sheet_1")
    value, _, _ = interval_in(page)
    page.press("Add a tape reading")
    page.widget("text_input", "Reading 1").set_value(f"{value} in")
    page.press("Show the answer")
    assert "Picture and tape agree" in page.text
    assert "Weights:" in page.text
    page.widget("text_input", "Reading 1").set_value(f"{value + 4} in")
    page.press("Show the answer")
    assert "Picture and tape do not agree" in page.text


def test_pictures_of_one_child_average_and_one_can_be_taken_away(page):
    data = SAMPLES["sheet_1"].path.read_bytes()
    # The same scene twice, as two files: what they share must not average away.
    page.upload("Take or choose pictures", ("one.jpg", data, JPEG), ("two.jpg", data + b"\0", JPEG))
    if "Were both heels on the floor" in page.text:
        page.press("Yes, both heels were down")
    assert "The pictures agree" in page.text
    page.press("Remove one.jpg")
    assert "The pictures agree" not in page.text
    assert "one.jpg" not in page.text
    assert "two.jpg with marks" in page.text


def test_three_children_are_not_one_and_get_no_bicycle(page):
    own(page, "sheet_1", "sheet_2", "sheet_3")
    assert "The pictures do not agree" in page.text
    assert "Try this one first" not in page.text
    assert "None of these fits" not in page.text
    # Said once, and what to do about it is one press, before anything is unfolded.
    assert page.text.count("The pictures do not agree") == 1
    first, *remove = [button.label for button in page.app.button][:4]
    assert first == "Yes, all show the same child"
    assert remove == [f"Remove sheet\\_{number}.jpg" for number in (1, 2, 3)]
    page.press(remove[0])
    page.press(remove[1])
    assert "The pictures do not agree" not in page.text


def test_a_crotch_and_a_floor_that_are_given_count_and_can_be_taken_back(page):
    pick(page, "sheet_1")
    before = interval_in(page)[0]
    page.enter("toggle", "Put marks right", True)
    values = []
    for mark, label in (("crotch", "crotch: y"), ("floor", "floor at the toes: y")):
        page.enter("radio", "Point to", mark)
        field = page.widget("number_input", label)
        # The crotch higher, the floor lower: longer legs.
        field.set_value(field.value + (12.0 if mark == "floor" else -12.0))
        page.run()
        values.append(interval_in(page)[0])
    assert before < values[0] < values[1]
    page.press("Take this one back")
    assert interval_in(page)[0] == values[0]
    page.press("Take all back")
    assert interval_in(page)[0] == pytest.approx(before)


def test_a_joint_put_elsewhere_changes_the_estimate_and_back_restores_it(page):
    pick(page, "sheet_1")
    before = interval_in(page)
    page.enter("toggle", "Put marks right", True)
    page.enter("radio", "Point to", "left_knee")
    knee = page.widget("number_input", "knee, the child’s left: x")
    knee.set_value(knee.value + 12.0)
    page.run()
    assert "Take all back" in [b.label for b in page.app.button if not b.disabled]
    page.press("Take all back")
    assert interval_in(page) == before


def test_a_click_that_leads_to_a_refusal_can_be_taken_back(page):
    pick(page, "sheet_1")
    before = interval_in(page)[0]
    page.enter("toggle", "Put marks right", True)
    page.enter("radio", "Point to", "crotch")
    page.widget("number_input", "crotch: y").set_value(5.0)
    page.run()
    assert "is not between the hips and knees" in page.text
    page.press("Take this one back")
    assert interval_in(page)[0] == pytest.approx(before)


def test_of_two_people_the_one_that_is_pointed_at_is_measured(page):
    two = Path(__file__).parents[1] / "doubtful" / "pictures" / "two_1.jpg"
    page.upload("Take or choose pictures", ("two.jpg", two.read_bytes(), JPEG))
    assert "Which child is to be measured?" in page.text
    assert "cannot be measured" not in page.text
    assert "(331" not in page.text
    x_px, y_px = (
        page.widget("number_input", f"the middle of the child to be measured: {axis}")
        for axis in "xy"
    )
    x_px.set_value(331.0)
    y_px.set_value(471.0)
    page.run()
    assert "as pointed at" in page.text
    assert interval_in(page)[0] > 10


def test_heels_that_the_picture_leaves_open_are_asked_about_and_answered_by_one_press(page):
    page.upload("Take or choose pictures", ("open.jpg", heels_open().read_bytes(), JPEG))
    assert "One question first" in page.text
    page.press("No, or I am not sure")
    assert "take the picture again, with both heels" in page.text
    page.press("Yes, both heels were down")
    assert "Try this one first" in page.text
    assert "Were both heels on the floor?" not in page.text


def test_a_refused_picture_shows_what_was_found_and_no_face(page):
    """The eyes are one even colour, the knees are marked, and the wall is as it was."""
    letter = heels_open().read_bytes()
    page.upload("Take or choose pictures", ("open.jpg", letter, JPEG))
    source = re.search(r'src="data:image/jpeg;base64,([^"]+)"><figcaption>open', page.text)
    shown = Image.open(io.BytesIO(base64.b64decode(source.group(1))))
    photo = read_photo(letter)
    body = pose_model().find(photo)
    before = np.asarray(Image.fromarray(photo.pixels).resize(shown.size), float)
    after = np.asarray(shown, float)
    scale = shown.width / photo.width_px

    def around(landmark):
        x, y = (body.point_px(landmark) * scale).round().astype(int)
        return slice(y - 3, y + 4), slice(x - 3, x + 4)

    for eye in ("left_eye", "right_eye"):
        assert after[around(eye)].std(axis=(0, 1)).max() < 4
    assert np.abs(after - before)[around("left_knee")].mean() > 30
    assert np.median(np.abs(after - before)) < 5


def test_a_wheel_needs_its_code_and_an_ambiguous_name_is_not_guessed(page):
    own(page, "wheel_1")
    # The wheel is seen, so its code alone is asked for.
    assert not [w for w in page.app.button_group if w.label == "What is beside the child?"]
    page.enter("text_input", "Tyre size", "20 x 1 3/8")
    assert "This is not a tyre size" in page.text
    page.enter("text_input", "Tyre size", SAMPLES["wheel_1"].truth["size"])
    assert "This is not a tyre size" not in page.text
    assert "Try this one first" in page.text or "both heels" in page.text


def test_a_door_is_marked_by_typing(page):
    own(page, "door_1")
    page.widget("button_group", "What is beside the child?").set_value("door")
    page.run()
    page.enter("text_input", "Height of the door", SAMPLES["door_1"].truth["size"])
    corners = [place.split(",") for place in SAMPLES["door_1"].truth["points"].split()]
    names = ("top left", "top right", "bottom right", "bottom left")
    for name, (x_px, y_px) in zip(names, corners, strict=True):
        page.widget("number_input", f"{name} corner: x").set_value(float(x_px))
        page.widget("number_input", f"{name} corner: y").set_value(float(y_px))
        page.run()
        if name != "bottom left":
            following = names[names.index(name) + 1]
            page.enter("radio", "Point to", str(names.index(following)))
    value, low, high = interval_in(page)
    assert value == pytest.approx(SAMPLES["door_1"].truth["inseam_mm"] / 25.4, abs=2)
    assert low < high


def test_a_picture_that_lies_on_its_side_is_turned_by_a_press(page):
    """Messengers lose which way up a picture is."""
    own(page, "a4_1")
    upright = interval_in(page)
    page.press("Start again")
    with Image.open(SAMPLES["a4_1"].path) as picture:
        lying = io.BytesIO()
        picture.transpose(Image.Transpose.ROTATE_90).save(lying, "JPEG", quality=95)
    page.upload("Take or choose pictures", ("lying.jpg", lying.getvalue(), JPEG))
    assert "does not stand upright" in page.text
    # Nobody is sent away to turn it elsewhere while the buttons stand below.
    assert "Turn it with a button below" in page.text
    assert "send it again" not in page.text
    page.press("Turn it to the right")
    heels_down(page)
    assert interval_in(page) == pytest.approx(upright, abs=0.4)
