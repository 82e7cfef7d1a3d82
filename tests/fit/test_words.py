import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.bicycle.tyre import read_marking
from pose_fit.fit.cautions import told_cautions
from pose_fit.fit.choice import choose
from pose_fit.fit.choice_words import choice_text
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.settle import settle_by
from pose_fit.fit.shown import SHOWN
from pose_fit.fit.verdicts import VERDICTS
from pose_fit.fit.words import GENERAL_CAUTIONS, cautions, feet_text, headline, reasons
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.report.as_json import fit_object

from .bikes import DEMO, DEMO_BY_NAME, bare, by_photo, full


def codes(notices):
    return [notice.code for notice in notices]


def test_cautions_always_ask_for_a_trial_a_fitter_and_a_helmet():
    text = " ".join(GENERAL_CAUTIONS).lower()
    # Who clears the top tube on tiptoe only does not clear it.
    for word in ("stand over", "both feet flat", "fitter", "helmet", "law"):
        assert word in text


@given(st.floats(300, 900), st.floats(1, 60), st.booleans())
def test_only_a_recommended_bicycle_is_called_fitting(mean_mm, sd_mm, stretch):
    stock = (*DEMO, bare(), bare(frame="step_through", standover_mm=400.0))
    for fit in judge(Inseam.stated(mean_mm, sd_mm), stock, policy=Policy(stretch=stretch)):
        text = headline(fit)
        if text.startswith(("Fits", "Tight: to grow")):
            assert fit.recommended
        for audience in ("parent", "staff"):
            for notice in reasons(fit, audience=audience):
                assert notice.message.endswith(".")
                assert "nan" not in notice.message
                assert "inf" not in re.findall(r"\b\w+\b", notice.message)


def test_parents_read_inches_beside_centimetres():
    for fit in judge(Inseam.stated(641, 6.0), DEMO):
        text = " ".join(notice.message for notice in reasons(fit))
        assert len(re.findall(r"\d in\b", text)) == len(re.findall(r"\d cm\)", text))
        if fit.bicycle.has_top_tube:
            assert re.search(r"[\d.]+ in \([\d.]+ cm\)", text)


def test_staff_and_parents_hear_the_same_facts():
    (fit,) = judge(Inseam.stated(641, 6.0), (DEMO_BY_NAME["Brambit 20"],))
    parent, staff = codes(reasons(fit)), codes(reasons(fit, audience="staff"))
    assert set(parent) <= set(staff)
    assert "seat" in staff
    told = {notice.code: notice.message for notice in reasons(fit, audience="staff")}
    assert "1.09" in told["seat"]
    assert "ISO 4210-2 young adult bicycle" in told["rules"]


@pytest.mark.parametrize(
    ("bike", "code"),
    [
        (full(standover_source="published"), "standover_not_measured"),
        (full(frame="sloping"), "sloping_top_tube"),
        (full(frame="unknown"), "frame_unknown"),
        (full(frame="step_through", standover_mm=400.0), "step_through"),
        (bare(), "geometry_missing"),
        (full(tyre=read_marking("24 x 1 3/8")), "tyre_ambiguous"),
        (full(handlebar_reach_mm=899.0), "overreach"),
        (full(front_centre_mm=480.0), "toe_overlap"),
    ],
)
def test_each_caution_has_its_cause(bike, code):
    inseam = Inseam.stated(660, 3.0)
    (plain,) = judge(inseam, (full(),))
    assert code not in codes(cautions(plain))
    (fit,) = judge(inseam, (bike,))
    assert code in codes(cautions(fit))


def test_what_asks_to_measure_the_bicycle_is_one_caution_for_people():
    """A list with name, wheel and standover alone, as shops export it."""
    bike = bare(
        name="Volta 24", tyre=read_marking("24"), standover_source="unknown", frame="unknown"
    )
    (fit,) = judge(Inseam.stated(650, 5.0), (bike,))
    assert len(cautions(fit)) == 4
    (told,) = told_cautions(fit)
    assert told.message.startswith("Measure this bicycle before deciding: ")
    for what in ("standover", "frame", "saddle", "tyre"):
        assert what in told.message
    # Nobody measures one that is outgrown anyway.
    (small,) = judge(Inseam.stated(850, 5.0), (bike,))
    assert small.shown == "outgrown"
    assert told_cautions(small) == ()
    # One thing alone keeps its own words, and nothing else is lost.
    bike = bare(standover_source="published", saddle_min_mm=680.0, saddle_max_mm=840.0)
    (fit,) = judge(Inseam.stated(650, 5.0), (bike,))
    assert told_cautions(fit) == cautions(fit)


def test_stretching_is_cautioned():
    (fit,) = judge(Inseam.stated(608, 3.0), (bare(600.0),), policy=Policy(stretch=True))
    assert fit.recommended
    assert "stretch" in codes(cautions(fit))


def test_what_would_settle_depends_on_the_decision():
    """One photo, three bicycles: the bar of a published one, of a measured one, and a post."""
    inseam = by_photo(622.0, random_mm=9.0, shared_mm=4.0)
    published, measured, outgrown = judge(
        inseam,
        (
            bare(600.0, standover_source="published"),
            bare(600.0),
            full(saddle_max_mm=700.0, standover_mm=500.0, saddle_min_mm=600.0),
        ),
    )
    assert (settle_by(published).decision, settle_by(published).action) == (
        "too_big",
        "measure_bicycle",
    )
    assert (settle_by(measured).source, settle_by(measured).action) == (
        "landmark scatter",
        "second_photo",
    )
    assert settle_by(outgrown).decision == "too_small"


def test_shared_errors_want_a_tape_not_another_photo():
    (fit,) = judge(by_photo(630.0, random_mm=3.0, shared_mm=14.0), (bare(600.0),))
    settle = settle_by(fit)
    assert (settle.source, settle.action) == ("focal length", "tape")


def test_a_tape_is_read_again():
    tape = Inseam(UncertainLength(625, (Contribution("tape reading", 8.0),)), "tape")
    (fit,) = judge(tape, (bare(600.0),))
    assert settle_by(fit).action == "repeat_tape"


def test_a_case_on_the_edge_is_tried_in_person():
    (probe,) = judge(Inseam.stated(600, 4.0), (bare(600.0),))
    (fit,) = judge(Inseam.stated(probe.recommended_from_mm - 0.5, 4.0), (bare(600.0),))
    assert fit.unsure
    assert settle_by(fit).action == "try_in_person"


@given(st.floats(300, 900), st.floats(2, 40))
def test_the_choice_is_told_in_whole_sentences(mean_mm, sd_mm):
    text = choice_text(choose(judge(Inseam.stated(mean_mm, sd_mm), DEMO)))
    assert text.endswith(".")
    assert "nan" not in text


@given(st.floats(300, 900), st.floats(2, 40))
def test_the_record_is_plain_json(mean_mm, sd_mm):
    stock = (*DEMO, bare(), bare(frame="step_through", standover_mm=400.0))
    for fit in judge(Inseam.stated(mean_mm, sd_mm), stock, rider=Rider(skill="first_pedals")):
        record = json.loads(json.dumps(fit_object(fit), allow_nan=False))
        assert record["verdict"] in VERDICTS
        assert record["shown"] in SHOWN
        assert tuple(record["probabilities"]) == VERDICTS
        assert sum(record["probabilities"].values()) == pytest.approx(1, abs=1e-5)
        if fit.bicycle.has_top_tube:
            low_mm, high_mm = record["clearance_interval95_mm"]
            assert low_mm < record["clearance_mm"] < high_mm
        else:
            assert record["clearance_mm"] is record["clearance_interval95_mm"] is None
        assert (record["settle_by"] is not None) == record["unsure"]


@given(st.floats(300, 900), st.floats(2, 40), st.sampled_from(("in", "cm")))
def test_no_top_tube_is_spoken_of_where_there_is_none(mean_mm, sd_mm, unit):
    for fit in judge(Inseam.stated(mean_mm, sd_mm), DEMO):
        told = " ".join(notice.message for notice in reasons(fit, unit=unit))
        if not fit.bicycle.has_top_tube:
            assert "top tube" not in told.replace("no top tube to clear", "")
            assert feet_text(fit) in told
        assert not re.search(r"\bthe bar\b|\bmind\b|\bsd\b", told)


def test_the_chosen_unit_stands_first():
    (fit,) = judge(Inseam.stated(641, 6.0), (DEMO_BY_NAME["Brambit 24"],))
    for unit, pattern in (("in", r"[\d.]+ in \([\d.]+ cm\)"), ("cm", r"[\d.]+ cm \([\d.]+ in\)")):
        told = " ".join(notice.message for notice in reasons(fit, unit=unit))
        assert re.search(pattern, told)
        assert re.search(pattern, choice_text(choose([fit]), unit=unit))


def test_the_top_pick_says_whether_the_feet_reach_the_ground():
    for inseam_mm in (400.0, 520.0, 640.0, 700.0):
        choice = choose(judge(Inseam.stated(inseam_mm, 6.0), DEMO))
        assert feet_text(choice.best) in choice_text(choice)


def test_a_lift_checks_the_advice():
    (fit,) = judge(Inseam.stated(641, 6.0), (DEMO_BY_NAME["Brambit 24"],))
    (check,) = [notice for notice in reasons(fit) if notice.code == "lift_check"]
    assert "2.0 in (5.2 cm)" in check.message


def test_standing_over_is_tried_with_both_feet_flat():
    """On tiptoe nearly every top tube is cleared, and it is never acceptable."""
    (cleared,) = judge(Inseam.stated(620, 4.0), (bare(590.0),))
    (lift,) = (one.message for one in reasons(cleared) if one.code == "lift_check")
    assert "both feet flat" in lift
    (open_one,) = judge(Inseam.stated(609, 1.5), (bare(600.0),))
    assert open_one.shown == "try with an adult holding it"
    assert "feet flat" in open_one.to_do


@pytest.mark.parametrize(
    ("name", "inseam_mm", "skill", "is_told"),
    [
        ("Pipwren 12", 375.0, "sure", True),  # tiptoe, at two and a half years
        ("Pipwren 12", 410.0, "sure", False),  # both feet flat
        ("Pipwren 12", 300.0, "sure", False),  # the top tube touches, which says it all
        ("Pipwren 12 Push", 375.0, "sure", False),  # no pedals to learn
        ("Brambit 20", 570.0, "sure", False),  # not the size to learn on
        ("Brambit 20", 605.0, "first_pedals", True),
        ("Brambit 20", 640.0, "first_pedals", False),
    ],
)
def test_a_learner_is_warned_where_both_feet_are_not_surely_flat(name, inseam_mm, skill, is_told):
    (fit,) = judge(Inseam.stated(inseam_mm, 6.0), (DEMO_BY_NAME[name],), rider=Rider(skill=skill))
    assert ("learner_feet" in codes(cautions(fit))) == is_told
