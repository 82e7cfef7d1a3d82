"""A case with a photo and a tape in the shop is a pair; pairs of others correct the next case."""

import datetime as dt
from dataclasses import replace

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.clue import TapeClue
from pose_fit.casebook.decision import Accepted
from pose_fit.casebook.estimate import corrected_estimate, pair_of, photos_inseam
from pose_fit.casebook.events import PhotoReceived, TapeTaken
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.errors import CaseBookError, PersonError
from pose_fit.inseam.from_tape import inseam_from_tape
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.pairs.correction import NO_CORRECTION
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

TODAY = dt.date(2026, 3, 2)


def by_photo(mean_mm: float, sd_mm: float = 12.0) -> Inseam:
    return Inseam(UncertainLength(mean_mm, (Contribution("posture", sd_mm),)), "photo")


def record(result=None, *, kind="letter", taken_on=None, legwear="snug") -> PhotoRecord:
    return PhotoRecord(
        width_px=3000,
        height_px=4000,
        taken_on=taken_on,
        task=PhotoTask(ReferenceRequest(kind=kind), Stated(legwear=legwear)),
        result=by_photo(600.0) if result is None else result,
    )


def sent(book, *records, **more):
    estimate = records[0].result if records else Inseam.stated(600, 8)
    content = CaseContent(estimate=estimate, photos=records, **more)
    return book.receive(content, by="family")


def tape(*readings_mm, day=TODAY, **more) -> TapeTaken:
    return TapeTaken(ShopTape(readings_mm=readings_mm, taken_by="Ada", day=day, **more))


def test_photo_and_tape_make_a_pair(book):
    case = sent(book, record())
    assert pair_of(case) is None
    taken = tape(590.0, 594.0, touched=False, bicycle="Tansel 20", shop="north")
    case = book.act(case, taken, by="Bo")
    assert (case.state, case.content.shop_tape) == ("waiting", taken.tape)
    (pair,) = book.pairs()
    assert (pair.name, pair.taken_by, pair.day) == (f"case {case.case_id}", "Ada", TODAY)
    assert (pair.reference, pair.legwear, pair.touched, pair.shop) == (
        "letter",
        "snug",
        False,
        "north",
    )
    assert pair.difference_mm == pytest.approx(8.0)
    assert book.history(case.case_id)[-1].what == taken


def test_the_tape_leaves_estimate_and_decision_alone_and_the_clue_out_of_the_pair(book):
    clue = inseam_from_tape([640.0])
    case = sent(
        book, record(), clues=(TapeClue(readings_mm=(640.0,), care="careful", inseam=clue),)
    )
    accepted = book.act(case, Accepted(), by="Ada")
    case = book.act(accepted, tape(590.0), by="Ada")
    assert (case.state, case.content.estimate) == ("accepted", accepted.content.estimate)
    # The family's own tape is no part of what the photo said.
    assert book.pairs()[0].photo.mean_mm == 600.0


def test_photos_that_were_replaced_or_refused_take_no_part(book):
    refused = Refusal((Notice("nobody", "No person was found."),))
    case = sent(book, record(by_photo(700.0)))
    more = (record(by_photo(590.0), kind="a4"), record(refused), record(by_photo(610.0)))
    case = book.receive_photo(case.reply_code, PhotoReceived(by_photo(600.0), more), by="family")
    book.act(case, tape(595.0), by="Ada")
    (pair,) = book.pairs()
    assert 590 < pair.photo.mean_mm < 610
    assert pair.reference is None


def test_the_photo_is_grown_to_the_day_of_the_tape(book):
    old = record(taken_on=dt.date(2025, 9, 2))
    case = sent(book, old, child=Child(age_y=7.0, sex="f"))
    grown = photos_inseam(case, on=TODAY)
    # Half a year of a girl of six and a half: legs grow some 15 mm (children of 1977, CDC).
    assert 608 < grown.mean_mm < 626
    assert grown.sd_mm > 12.0
    book.act(case, tape(615.0), by="Ada")
    assert book.pairs()[0].photo == grown


def test_a_correction_grows_an_old_photo_only_where_the_estimate_sent_in_is_grown(book):
    for _ in range(12):
        book.act(sent(book, record()), tape(585.0), by="Ada")
    child = Child(age_y=7.0, sex="f")
    old = record(taken_on=dt.date(2025, 9, 2))
    as_taken = sent(book, old, child=child)
    correction = book.correction_for(as_taken)
    assert corrected_estimate(as_taken, correction).mean_mm < 595
    estimate = photos_inseam(as_taken, on=TODAY)
    content = CaseContent(estimate=estimate, photos=(old,), child=child)
    grown = book.receive(content, by="family")
    corrected = corrected_estimate(grown, correction)
    assert 5 < estimate.mean_mm - corrected.mean_mm < 15


def test_a_tape_from_before_the_photo_makes_no_pair(book):
    case = sent(book, record())
    book.act(case, tape(590.0, day=dt.date(2026, 1, 5)), by="Ada")
    assert book.pairs() == ()


def test_pairs_of_others_correct_the_next_case_and_not_their_own(book):
    first = sent(book, record())
    assert book.correction_for(first) == NO_CORRECTION
    assert corrected_estimate(first, NO_CORRECTION) is first.content.estimate
    taped = [book.act(sent(book, record()), tape(585.0), by="Ada") for _ in range(12)]
    correction = book.correction_for(first)
    assert correction.pairs == 12
    corrected = corrected_estimate(first, correction)
    assert 585 < corrected.mean_mm < 595
    assert corrected.warnings[-1].code == "corrected"
    assert book.correction_for(taped[0]).pairs == 11
    # Accepted as seen; the estimate as sent stays what it was, for later pairs.
    case = book.act(first, Accepted("", corrected), by="Ada")
    assert case.content.answer == corrected
    assert case.content.estimate == first.content.estimate
    assert book.case(case.case_id).content.answer == corrected


def test_clues_stay_in_a_corrected_estimate_and_a_case_without_photo_is_left_alone(book):
    for _ in range(12):
        book.act(sent(book, record()), tape(585.0), by="Ada")
    told = inseam_from_tape([600.0, 600.0])
    clue = TapeClue(readings_mm=(600.0, 600.0), care="careful", inseam=told)
    both = sent(book, record(), clues=(clue,))
    with_clue = corrected_estimate(both, book.correction_for(both))
    without = corrected_estimate(sent(book, record()), book.correction_for(both))
    assert without.mean_mm < with_clue.mean_mm < 600
    only = sent(book, clues=(clue,))
    assert corrected_estimate(only, book.correction_for(only)) is only.content.estimate


def test_one_press_turns_the_correction_off_for_everybody(book, where):
    from pose_fit.casebook.book import CaseBook

    for _ in range(3):
        book.act(sent(book, record()), tape(585.0), by="Ada")
    case = sent(book, record())
    assert book.settings.corrects
    book.settings.turn_correction(on=False, by="Ada")
    with CaseBook(where) as other_branch:
        assert not other_branch.settings.corrects
        assert other_branch.correction_for(case) == NO_CORRECTION
    book.settings.turn_correction(on=True, by="Bo")
    assert book.correction_for(case).pairs == 3


def test_a_pair_leaves_with_its_case(book):
    cases = [book.act(sent(book, record()), tape(585.0), by="Ada") for _ in range(2)]
    assert len(book.pairs()) == 2
    book.delete(cases[0].case_id, by="Ada")
    assert [pair.name for pair in book.pairs()] == [f"case {cases[1].case_id}"]
    book.delete(cases[1].case_id, by="Ada")
    assert book.pairs() == ()


@pytest.mark.parametrize(
    ("change", "fault", "message"),
    [
        ({"readings_mm": ()}, PersonError, "at least one reading"),
        ({"readings_mm": (60.0,)}, PersonError, "tape reading of an inseam lies"),
        ({"taken_by": " "}, CaseBookError, "who held the tape: wanted some text"),
    ],
)
def test_a_tape_is_readings_by_somebody(change, fault, message):
    with pytest.raises(fault, match=message):
        replace(tape(590.0).tape, **change)


def test_a_tape_on_the_shops_own_day_makes_a_pair_though_it_is_tomorrow_in_greenwich(book):
    """An evening in New York: the case came on the next day of universal time."""
    case = sent(book, record())
    yesterday = case.received_at.date() - dt.timedelta(days=1)
    book.act(case, tape(590.0, day=yesterday), by="Ada")
    assert len(book.pairs()) == 1
