"""Cases that a family joined by its child's code draw one growth line."""

import datetime as dt

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.case import CaseContent
from pose_fit.casebook.child_history import forecast_for, growth_line, measured_inseams
from pose_fit.casebook.codes import new_code, shown_code
from pose_fit.casebook.decision import Overridden
from pose_fit.casebook.events import ChildJoined, TapeTaken
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.errors import CaseBookError, PersonError
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.refusal import Notice, Refusal


def sent(book, mean_mm, age_y=7.5, **more):
    estimate = Inseam.stated(mean_mm, 10.0)
    content = CaseContent(estimate=estimate, child=Child(age_y=age_y, sex="f"), **more)
    return book.receive(content, by="family")


def test_joined_cases_are_found_by_the_childs_code_and_others_are_not(book, clock):
    code = new_code()
    first = sent(book, 540.0, child_code=code)
    clock.move(days=200)
    sent(book, 700.0)
    second = sent(book, 556.0, age_y=8.0)
    joined = book.act(second, ChildJoined(f" {shown_code(code).lower()} "), by="family")
    assert joined.content.child_code == code
    assert book.cases_of_child(shown_code(code)) == (first, joined)
    assert book.cases_of_child("") == ()
    parted = book.act(joined, ChildJoined(""), by="family")
    assert book.cases_of_child(code) == (first,)
    assert parted.content.child_code == ""


def test_a_code_that_cannot_be_is_refused(book):
    with pytest.raises(CaseBookError, match="wanted 8 letters"):
        sent(book, 540.0, child_code="ABC")


def test_answers_and_tapes_stand_before_estimates(book, clock):
    first = book.act(sent(book, 540.0), Overridden(548.0, 5.0, "measured here"), by="Ada")
    clock.move(days=100)
    second = sent(book, 556.0)
    tape = ShopTape(readings_mm=(552.0,), taken_by="Ada", day=clock.now.date())
    second = book.act(second, TapeTaken(tape), by="Ada")
    refused = Refusal((Notice("nobody", "No person was found."),))
    third = book.receive(CaseContent(estimate=refused), by="family")
    measured = measured_inseams([first, second, third])
    assert [each.inseam.mean_mm for each in measured] == [548.0, 556.0, 552.0]
    line = growth_line([first, second, third], on=clock.now.date())
    assert 550 < line.mean_mm[0] < 560
    assert line.sd_mm[0] < 8.0


def test_no_inseam_draws_no_line(book):
    refused = Refusal((Notice("nobody", "No person was found."),))
    case = book.receive(CaseContent(estimate=refused), by="family")
    with pytest.raises(PersonError, match="at least one inseam"):
        growth_line([case], on=dt.date(2026, 3, 2))


def test_joined_cases_say_more_of_today_than_one_alone(book, clock):
    code = new_code()
    for mean_mm, age_y in ((540.0, 7.0), (556.0, 7.5)):
        clock.move(days=180)
        # Errors of its own each time: what all photos share, no second one takes away.
        estimate = Inseam(UncertainLength(mean_mm, (Contribution("posture", 10.0),)), "photo")
        child = Child(age_y=age_y, sex="f")
        newest = book.receive(
            CaseContent(estimate=estimate, child=child, child_code=code), by="family"
        )
    today = clock.now.date()
    alone = forecast_for(newest, (), today)
    joined = forecast_for(newest, book.cases_of_child(code), today)
    assert joined.sd_mm[0] < 0.95 * alone.sd_mm[0]
    assert alone.mean_mm[0] == pytest.approx(556.0, abs=1)
    assert (joined.sd_mm[:25] <= alone.sd_mm[:25] + 0.3).all()
