"""Marks that staff moved: no number from before them is accepted without a word."""

import pytest

from pose_fit.app.inputs.uploads import SAMPLE_FOLDER
from pose_fit.body.mediapipe_pose import MediaPipePose
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.decision import Accepted
from pose_fit.casebook.kept_picture import Picture
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

from .test_staff import book, choose, open_first, place, sign_in

__all__ = ["book", "place"]

CORNERS = ((838.0, 748.0), (937.0, 749.0), (931.0, 878.0), (833.0, 878.0))


@pytest.fixture(scope="module")
def sent_in():
    """A photo whose paper the family marked, with what it gave."""
    photo = read_photo(SAMPLE_FOLDER / "letter_2.jpg")
    task = PhotoTask(ReferenceRequest("letter", points_px=CORNERS), Stated(heels_down=True))
    pose = MediaPipePose()
    record = PhotoRecord(
        width_px=photo.width_px,
        height_px=photo.height_px,
        focal_35mm=photo.focal_35mm,
        task=task,
        result=measure_photo(photo, task, pose=pose).inseam,
    )
    return record, Picture(photo.pixels, pose.find(photo))


@pytest.fixture
def case(book, sent_in):
    record, picture = sent_in
    content = CaseContent(estimate=record.result, photos=(record,))
    return book.receive(content, by="family", pictures=[picture])


@pytest.fixture
def page(case, open_page):
    return choose(open_first(sign_in(open_page("staff"))), "accept")


def move_floor(page, down_px: float = 40.0):
    """The floor put lower by keyboard, as a click would."""
    if not page.widget("toggle", "Put marks right").value:
        page.enter("toggle", "Put marks right", True)
    page.enter("radio", "Point to", "floor")
    height = page.widget("number_input", "floor at the toes: y")
    return page.enter("number_input", "floor at the toes: y", height.value + down_px)


def labels(page) -> list[str]:
    return [button.label for button in page.app.button]


def test_an_unchanged_photo_is_accepted_at_once(book, case, page):
    assert "Keep the change" not in labels(page)
    page.press("Accept the estimate")
    assert book.case(case.case_id).content.answer == case.content.estimate


def test_a_moved_mark_is_kept_before_its_number_is_accepted(book, case, page):
    move_floor(page)
    assert "You changed photo 1" in page.text
    assert "Accept the estimate" not in labels(page)
    page.press("Keep the change")
    changed = book.case(case.case_id).content.estimate
    assert changed.mean_mm > case.content.estimate.mean_mm + 1
    page.press("Accept the estimate")
    assert book.case(case.case_id).content.answer == changed


def test_a_moved_mark_is_taken_back_before_the_old_number_is_accepted(book, case, page):
    move_floor(page)
    page.press("Take the change back")
    assert "You changed photo" not in page.text
    page.press("Accept the estimate")
    assert book.case(case.case_id).content.answer == case.content.estimate


def test_corners_not_all_marked_are_no_number_yet(book, case, page):
    page.enter("toggle", "Mark the object", True)
    page.press("Take this one back")
    assert "not all marked yet" in page.text
    assert not {"Accept the estimate", "Keep the change"} & set(labels(page))
    page.press("Take the change back")
    page.press("Accept the estimate")
    assert isinstance(book.case(case.case_id).content.decision.verdict, Accepted)


def test_another_change_of_the_case_loses_no_moved_mark(book, case, page):
    move_floor(page)
    choose(page, "correct")
    page.widget("text_input", "Name or number").set_value("order 18")
    page.press("Save")
    assert book.case(case.case_id).content.label == "order 18"
    assert "You changed photo 1" in page.text
