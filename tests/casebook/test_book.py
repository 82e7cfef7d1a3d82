import datetime as dt
import io
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest
import sqlalchemy as sa
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from pose_fit.anthropometry.child import Child
from pose_fit.body.body import LANDMARKS, Bystander
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.decision import Accepted, Decision, Overridden, PhotoAsked
from pose_fit.casebook.events import (
    ClueAdded,
    DetailsCorrected,
    Exported,
    LandmarksAdjusted,
    PhotoReceived,
    PictureRemoved,
    Received,
    Reopened,
)
from pose_fit.casebook.kept_picture import Picture
from pose_fit.errors import CaseBookError, PersonError
from pose_fit.inseam.inseam import Inseam
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.photo_task import PhotoTask

OTHER = Inseam.stated(570.0, 9.0)
LATER = Inseam.stated(566.0, 8.0)
PHOTO = PhotoRecord(
    width_px=3000, height_px=4000, task=PhotoTask(ReferenceRequest(kind="letter")), result=OTHER
)
ONE_PHOTO = CaseContent(estimate=OTHER, photos=(PHOTO,))
REFUSED = Refusal((Notice("nobody", "No person was found in the picture."),), ("More light.",))


def test_a_received_case_comes_back_whole(book, content, clock):
    case = book.receive(content, by="family")
    assert (case.version, case.state, case.pictures) == (1, "waiting", ())
    assert case.content == content
    assert case.received_at == case.changed_at == case.waiting_since == clock.now
    assert book.case(case.case_id) == case


def test_a_case_survives_closing_the_book(where, content):
    with CaseBook(where) as book:
        case = book.receive(content, by="family")
    with CaseBook(where) as book:
        assert book.case(case.case_id) == case


def test_moments_keep_their_instant_whatever_zone_they_came_in(where, content):
    noon_in_tokyo = dt.datetime(2026, 3, 2, 12, tzinfo=dt.timezone(dt.timedelta(hours=9)))
    with CaseBook(where, clock=lambda: noon_in_tokyo) as book:
        case_id = book.receive(content, by="family").case_id
        assert book.case(case_id).received_at == dt.datetime(2026, 3, 2, 3, tzinfo=dt.UTC)


def test_the_history_tells_who_did_what_and_when(book, content, clock):
    done = [
        (LandmarksAdjusted(OTHER, PHOTO), "Ada", "waiting"),
        (PhotoAsked("Please send another."), "Ada", "photo_asked"),
        (ClueAdded(RemarkClue(text="called"), OTHER), "Bo", "photo_asked"),
        (Overridden(560.0, 8.0, "measured here"), "Bo", "overridden"),
        (Reopened("wrong child"), "Bo", "waiting"),
        (DetailsCorrected("Zoë", Child(age_y=8.0)), "Ada", "waiting"),
        (Accepted("looks right"), "Ada", "accepted"),
    ]
    case = book.receive(content, by="family")
    moments = [clock.now]
    for action, who, state in done:
        clock.move(hours=1)
        case = book.act(case, action, by=who)
        moments.append(clock.now)
        assert case.state == state
        assert case.changed_at == clock.now
    history = book.history(case.case_id)
    assert [event.what for event in history] == [
        Received(content.estimate),
        *(action for action, _, _ in done),
    ]
    assert [event.by for event in history] == ["family", *(who for _, who, _ in done)]
    assert [event.at for event in history] == moments
    assert [event.version for event in history] == [1, 2, 3, 4, 5, 6, 7, 8]


def test_history_cannot_be_rewritten_in_the_database(book, where, content):
    case = book.receive(content, by="family")
    url = where.replace("postgresql://", "postgresql+psycopg://")
    engine = sa.create_engine(url)
    for statement in ("UPDATE case_events SET \"by\" = 'x'", "DELETE FROM case_events"):
        with pytest.raises(sa.exc.DBAPIError, match="history"), engine.begin() as connection:
            connection.execute(sa.text(statement))
    engine.dispose()
    assert [event.by for event in book.history(case.case_id)] == ["family"]


def test_the_answer_is_what_staff_stand_by(book, content):
    case = book.receive(content, by="family")
    assert case.content.answer is None
    accepted = book.act(case, Accepted(), by="Ada")
    assert accepted.content.answer == content.estimate
    overridden = book.act(accepted, Overridden(560.0, 8.0, "measured here"), by="Ada")
    answer = overridden.content.answer
    assert (answer.mean_mm, answer.sd_mm) == (560.0, pytest.approx(8.0))
    asked = book.act(overridden, PhotoAsked("again, please"), by="Ada")
    assert asked.content.answer is None


@pytest.mark.parametrize(
    "change", [LandmarksAdjusted(OTHER, PHOTO), ClueAdded(RemarkClue(text="phoned"), OTHER)]
)
def test_a_new_estimate_takes_the_decision_back(book, content, clock, change):
    accepted = book.act(book.receive(content, by="family"), Accepted(), by="Ada")
    clock.move(days=1)
    case = book.act(accepted, change, by="Bo")
    assert (case.state, case.content.decision, case.content.estimate) == ("waiting", None, OTHER)
    assert case.waiting_since == clock.now


def test_a_remark_leaves_the_decision(book, content):
    accepted = book.act(book.receive(content, by="family"), Accepted(), by="Ada")
    case = book.act(accepted, ClueAdded(RemarkClue(text="phoned"), content.estimate), by="Bo")
    assert case.state == "accepted"


def test_another_photo_by_reply_code_waits_again_and_the_earlier_one_is_set_aside(
    book, clock, picture
):
    case = book.receive(ONE_PHOTO, by="family", pictures=[Picture(picture)])
    asked = book.act(case, PhotoAsked("again, please"), by="Ada")
    clock.move(days=2)
    typed = f" {asked.reply_code.lower()} "
    again = book.receive_photo(
        typed,
        PhotoReceived(LATER, (PHOTO, PHOTO)),
        by="family",
        pictures=[None, Picture(255 - picture)],
    )
    assert (again.case_id, again.version, again.state) == (case.case_id, 3, "waiting")
    assert (again.content.estimate, again.waiting_since) == (LATER, clock.now)
    assert [photo.set_aside for photo in again.content.photos] == [True, False, False]
    assert again.pictures == (0, 2)
    for place, expected in ((0, picture), (2, 255 - picture)):
        seen = np.asarray(Image.open(io.BytesIO(book.picture(case.case_id, place)))).astype(int)
        assert abs(seen - expected.astype(int)).mean() < abs(seen - (255 - expected)).mean()
    assert book.picture(case.case_id, 1) is None
    assert book.find() == (again,)


def test_a_clue_sent_later_leaves_the_photos_as_they_are(book):
    case = book.receive(ONE_PHOTO, by="family")
    again = book.receive_photo(case.reply_code, PhotoReceived(LATER), by="family")
    assert again.content.photos == ONE_PHOTO.photos


def test_pictures_go_with_photos_one_each(book, picture):
    with pytest.raises(CaseBookError, match="one for each of 1 photos, found 2"):
        book.receive(ONE_PHOTO, by="family", pictures=[Picture(picture)] * 2)
    assert book.count() == 0


def test_sent_twice_is_one_case(book, content):
    one = book.receive(content, by="family", submission="abc")
    assert book.receive(content, by="family", submission="abc") == one
    more = PhotoReceived(LATER, (PHOTO,))
    again = book.receive_photo(one.reply_code, more, by="family", submission="def")
    assert book.receive_photo(one.reply_code, more, by="family", submission="def") == again
    assert (book.count(), len(book.history(one.case_id))) == (1, 2)
    assert book.receive(content, by="family", submission="ghi").case_id != one.case_id


def test_sent_by_many_hands_at_the_same_moment_is_one_case(where, content):
    with CaseBook(where) as book, ThreadPoolExecutor(4) as pool:
        sent = [pool.submit(book.receive, content, by="family", submission="abc") for _ in range(8)]
        assert len({each.result().case_id for each in sent}) == 1
        assert book.count() == 1


def test_the_case_is_found_by_its_code(book, content):
    case = book.receive(content, by="family")
    typed = case.reply_code.lower().replace("-", " ")
    assert book.case_of_code(typed) == case
    with pytest.raises(CaseBookError, match="reply code"):
        book.case_of_code("0000-0000")


def test_moved_points_stay_with_their_photo(book, content):
    case = book.receive(content, by="family")
    moved = book.act(case, LandmarksAdjusted(OTHER, PHOTO, 1), by="Ada")
    assert moved.content.photos == (content.photos[0], PHOTO)
    with pytest.raises(CaseBookError, match="below 2 in the case, found 2"):
        book.act(moved, LandmarksAdjusted(OTHER, PHOTO, 2), by="Ada")


def test_a_wrong_reply_code_is_refused(book, content):
    book.receive(content, by="family")
    with pytest.raises(CaseBookError, match="reply code"):
        book.receive_photo("0000-0000", PhotoReceived(OTHER), by="family")


def test_a_refused_photo_is_a_case_but_cannot_be_accepted(book, content):
    case = book.receive(replace(content, estimate=REFUSED), by="family")
    assert case.content.estimate == REFUSED
    with pytest.raises(CaseBookError, match="accept: wanted an estimate"):
        book.act(case, Accepted(), by="Ada")
    assert book.case(case.case_id).version == 1
    assert book.act(case, Overridden(560.0, 8.0, "tape by phone"), by="Ada").content.answer


def test_the_picture_can_go_and_the_numbers_stay(book, content, picture):
    kept = [Picture(picture), Picture(picture)]
    case = book.receive(content, by="family", pictures=kept)
    assert case.pictures == (0, 1)
    case = book.act(case, PictureRemoved(0), by="Ada")
    assert (case.pictures, book.picture(case.case_id)) == ((1,), None)
    case = book.act(case, PictureRemoved(), by="Ada")
    assert (case.pictures, book.picture(case.case_id, 1)) == ((), None)
    assert case.content == content


def test_the_queue_has_the_longest_waiting_first(book, content, clock):
    cases = []
    for _ in range(4):
        cases.append(book.receive(content, by="family"))
        clock.move(minutes=5)
    book.act(cases[1], Accepted(), by="Ada")
    asked = book.act(cases[0], PhotoAsked("again, please"), by="Ada")
    book.receive_photo(asked.reply_code, PhotoReceived(OTHER), by="family")
    wanted = [cases[2].case_id, cases[3].case_id, cases[0].case_id]
    assert [case.case_id for case in book.queue()] == wanted
    assert [case.case_id for case in book.queue(limit=1, offset=1)] == wanted[1:2]


def test_giving_out_is_noted_and_makes_no_new_version(book, content):
    case = book.receive(content, by="family")
    book.note_export(case.case_id, Exported("fit card"), by="Ada")
    book.export_csv(by="Bo")
    assert [event.what for event in book.history(case.case_id)[1:]] == [
        Exported("fit card"),
        Exported("table"),
    ]
    assert book.act(case, Accepted(), by="Ada").version == 2


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Overridden(560.0, 8.0, "  "), "reason: wanted some text"),
        (lambda: PhotoAsked(""), "message: wanted some text"),
        (lambda: Accepted("x" * 4001), "at most 4000 characters, found 4001"),
        (lambda: CaseContent(estimate=OTHER, label="x" * 201), "at most 200 characters, found 201"),
        (lambda: RemarkClue(text=" \n"), "remark: wanted some text"),
    ],
)
def test_texts_are_needed_and_bounded(make, message):
    with pytest.raises(CaseBookError, match=message):
        make()


@pytest.mark.parametrize(("inseam_mm", "sd_mm"), [(560.0, 0.0), (9000.0, 5.0), (560.0, np.nan)])
def test_an_override_is_an_inseam_with_an_uncertainty(inseam_mm, sd_mm):
    with pytest.raises(PersonError):
        Overridden(inseam_mm, sd_mm, "because")


def test_nobody_does_anything_without_a_name(book, content):
    with pytest.raises(CaseBookError, match="name of who does this"):
        book.receive(content, by=" ")


def test_a_decided_case_cannot_be_sent_in(book, content):
    decision = Decision(Accepted(), "Ada", dt.datetime.now(dt.UTC))
    with pytest.raises(CaseBookError, match="undecided"):
        book.receive(replace(content, decision=decision), by="family")


def test_numbers_that_name_no_case_are_refused(book):
    with pytest.raises(CaseBookError, match="no case 77"):
        book.case(77)
    assert book.history(77) == ()


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(label=st.text(st.characters(exclude_categories=()), max_size=60))
def test_whatever_the_family_types_is_kept(book, label):
    """Including NUL, which PostgreSQL refuses, and lone surrogates, which UTF-8 cannot hold."""
    sent = CaseContent(estimate=OTHER, label=label)
    case = book.case(book.receive(sent, by="family").case_id)
    assert case.content == sent
    printable = [letter for letter in label if letter.isalnum()]
    assert [letter for letter in case.content.label if letter.isalnum()] == printable


@pytest.mark.parametrize("code", ["several_people", "people_overlap", "person_chosen"])
def test_no_picture_refused_for_several_people_is_kept(book, picture, code):
    refused = Refusal((Notice(code, "Somebody else is in the picture."),), ("One child alone.",))
    photo = replace(PHOTO, result=refused)
    content = CaseContent(estimate=refused, photos=(photo,))
    with pytest.raises(CaseBookError, match="a photo of several people"):
        book.receive(content, by="family", pictures=[Picture(picture)])
    assert book.find() == ()
    # Its numbers are.
    case = book.receive(content, by="family", pictures=[None])
    with pytest.raises(CaseBookError, match="a photo of several people"):
        book.receive_photo(
            case.reply_code,
            PhotoReceived(refused, (photo,)),
            by="family",
            pictures=[Picture(picture)],
        )
    assert book.case(case.case_id) == case


@pytest.mark.parametrize("code", ["others_in_picture", "person_chosen"])
def test_no_picture_measured_beside_others_is_kept(book, picture, code):
    told = Notice(code, "Somebody else is in the picture.")
    measured = replace(PHOTO, result=replace(OTHER, warnings=(told,)))
    content = CaseContent(estimate=OTHER, photos=(measured,))
    with pytest.raises(CaseBookError, match="a photo of several people"):
        book.receive(content, by="family", pictures=[Picture(picture)])
    assert book.receive(content, by="family", pictures=[None]).content == content


def test_no_picture_is_kept_in_which_another_body_was_seen_whatever_else_was_told(
    book, picture, photo_of, standing
):
    """A photo refused for something else, such as its turn, does not tell of the other."""
    refused = Refusal((Notice("picture_rotated", "The picture lies on its side."),), ("Turn it.",))
    content = CaseContent(estimate=refused, photos=(replace(PHOTO, result=refused),))
    photo = photo_of(picture)
    child = standing(photo, hips_px=(40.0, 40.0), leg_px=20.0)
    beside = replace(child, bystanders=(Bystander(child.points_px(LANDMARKS)),))
    with pytest.raises(CaseBookError, match="a photo of several people"):
        book.receive(content, by="family", pictures=[Picture(picture, beside)])
    assert book.find() == ()
    case = book.receive(content, by="family", pictures=[Picture(picture, child)])
    assert book.picture(case.case_id) is not None
