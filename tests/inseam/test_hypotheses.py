"""The mixture on drawn children whose inseam is known: what it must find, and what must not matter."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.checks.two_answers import check_one_answer, second_answer, two_answers
from pose_fit.inseam.error_model import WORLD_SOURCE, error_model
from pose_fit.inseam.from_child import known_of
from pose_fit.inseam.photo_reading import BETWEEN_SOURCE, PhotoReading, read_inseam
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.sights.candidates import CrotchCandidate, WallBaseCandidate
from tests.drawn_children import MODEL, drawn_children
from tests.inseam.drawn_child import Drawn, draw_child

#: The shipped model for children whose errors are as large as its intervals take them for.
AS_TOLD = replace(
    MODEL,
    joint_sd_parts=tuple(MODEL.interval_factor * np.array(MODEL.joint_sd_parts)),
    shift_part_sds=tuple(MODEL.interval_factor * np.array(MODEL.shift_part_sds)),
    toe_sd_part=MODEL.interval_factor * MODEL.toe_sd_part,
    wall_base_sd_part=MODEL.interval_factor * MODEL.wall_base_sd_part,
)
#: Depths as the first error model took them: heels nearly at the wall, bare feet.
SURE_OF_DEPTHS = replace(
    MODEL,
    gap_at_wall_mm=(20.0, 24.0),
    free_share=1e-9,
    ankle_before_heel=(0.0792, 0.0098),
    hip_before_ankle=(0.0262, 0.02),
    crotch_before_hip=(0.1151, 0.0268),
    reach_mm=(-11.5, 18.7),
)


@cache
def children(stance: str, pitch_rad: float | None = None, count: int = 120) -> tuple[Drawn, ...]:
    rng = np.random.default_rng(7)
    return tuple(
        draw_child(rng, model=MODEL, stance=stance, pitch_rad=pitch_rad) for _ in range(count)
    )


def read(sights: PhotoSights) -> PhotoReading:
    return read_inseam(sights, model=MODEL)


def errors_mm(drawn: tuple[Drawn, ...], model=MODEL) -> np.ndarray:
    return np.array(
        [read_inseam(one.sights, model=model).length.mean_mm - one.inseam_mm for one in drawn]
    )


@pytest.mark.parametrize(
    ("stance", "pitch_rad"), [("at wall", None), ("at wall", 0.35), ("free", None), ("free", 0.35)]
)
def test_the_interval_holds_the_truth_wherever_the_child_stands(stance, pitch_rad) -> None:
    drawn = children(stance, pitch_rad)
    # Errors are drawn as large as each source says, so that the sources count in full.
    full = replace(MODEL, interval_factor=1.0)
    lengths = [read_inseam(one.sights, model=full).length for one in drawn]
    held = [
        abs(length.mean_mm - one.inseam_mm) <= 1.96 * length.sd_mm
        for one, length in zip(drawn, lengths, strict=True)
    ]
    # The regressions' own doubt is not drawn, so that the intervals are wide here.
    assert np.mean(held) >= 0.95
    assert abs(errors_mm(drawn).mean()) < 7


def test_depths_that_were_taken_for_known_are_measured_now() -> None:
    """Heels 20 to 130 mm off the wall, seen from above: the bias of sure depths goes."""
    drawn = children("free", 0.35)
    before, after = errors_mm(drawn, SURE_OF_DEPTHS).mean(), errors_mm(drawn).mean()
    assert before > 10
    assert abs(after) < before / 2


def test_a_wall_base_that_the_feet_contradict_is_left_even_where_it_looks_better() -> None:
    rng = np.random.default_rng(8)
    wrong = []
    for _ in range(60):
        one = draw_child(rng, model=MODEL, wrong_base_mm=100.0)
        wrong.append(
            sum(
                each.weight
                for each in read(one.sights).hypotheses
                if each.hypothesis.wall_base == 1
            )
        )
    assert np.mean(wrong) < 0.03


def test_a_hem_high_above_the_crotch_is_weighed_down() -> None:
    rng = np.random.default_rng(9)
    wrong = [
        sum(
            each.weight
            for each in read(draw_child(rng, model=MODEL, wrong_crotch_mm=-85.0).sights).hypotheses
            if each.hypothesis.crotch == 1
        )
        for _ in range(60)
    ]
    # Believed in by the picture alone with 0.55 against 0.35. The hips, which contradict it, are
    # themselves unsure by 28 mm or so: less than a third of the belief is left on average.
    assert np.mean(wrong) < 0.55 / 3
    assert np.median(wrong) < 0.05


def test_weights_add_up_to_one() -> None:
    for one in children("at wall")[:10]:
        assert sum(each.weight for each in read(one.sights).hypotheses) == pytest.approx(1)


def with_base(sights: PhotoSights, below_px: float, weight: float) -> PhotoSights:
    line_px = sights.wall_bases[0].line_px + np.array([0.0, below_px])
    first = replace(sights.wall_bases[0], weight=0.85)
    return replace(sights, wall_bases=(first, WallBaseCandidate(line_px, weight)))


def test_a_hopeless_candidate_hardly_changes_the_answer() -> None:
    for one in children("at wall")[:10]:
        plain = read(one.sights).length
        # Its belief is taken from that in no wall base, which is a hypothesis of its own.
        more = read(with_base(one.sights, 400.0, 0.02)).length
        assert more.mean_mm == pytest.approx(plain.mean_mm, abs=0.8)
        assert more.sd_mm == pytest.approx(plain.sd_mm, rel=0.04)


def test_the_order_of_the_candidates_does_not_matter() -> None:
    sights = with_base(children("at wall")[0].sights, 25.0, 0.1)
    turned = replace(sights, wall_bases=sights.wall_bases[::-1])
    one, other = read(sights), read(turned)
    assert other.length.mean_mm == pytest.approx(one.length.mean_mm, abs=1e-6)
    assert other.length.sd_mm == pytest.approx(one.length.sd_mm, rel=1e-9)
    assert {line.source for line in other.length.budget} == {
        line.source for line in one.length.budget
    }


def test_a_picture_of_another_size_gives_the_same_inseam() -> None:
    """All pixels doubled, and the camera's with them."""
    sights = children("at wall")[1].sights
    plane = sights.plane
    parameters, shifts = plane.parameters.copy(), plane.shifts.copy()
    parameters[6] += np.log(2)
    parameters[7:9] *= 2
    shifts[7:9] *= 2
    larger = replace(
        sights,
        plane=replace(plane, parameters=parameters, shifts=shifts),
        body=replace(sights.body, passes_px=2 * sights.body.passes_px),
        crotches=tuple(
            CrotchCandidate(2 * one.point_px, 2 * one.edge_sd_px, one.weight)
            for one in sights.crotches
        ),
        toes=tuple(replace(one, points_px=2 * one.points_px) for one in sights.toes),
        wall_bases=tuple(replace(one, line_px=2 * one.line_px) for one in sights.wall_bases),
    )
    one, other = read(sights).length, read(larger).length
    assert other.mean_mm == pytest.approx(one.mean_mm, abs=1e-6)
    assert other.sd_mm == pytest.approx(one.sd_mm, rel=1e-9)


def ambiguous() -> tuple[PhotoSights, PhotoReading]:
    """Two crotches equally far to each side of where the hips put it, both plausible."""
    sights = children("at wall")[2].sights
    legs_only = read(replace(sights, crotches=())).length.mean_mm
    point = sights.crotches[0].point_px
    by_crotch = read(replace(sights, crotches=(replace(sights.crotches[0], weight=1.0),)))
    crotch = by_crotch.best("crotch")
    assert crotch is not None
    leg_px = sights.body.leg_px
    off_px = (crotch.value_mm - legs_only) / 500 * leg_px
    half_px = np.array([0.0, 0.085 * leg_px])
    middle = point + np.array([0.0, off_px])
    both = tuple(CrotchCandidate(middle + step, 2.0, 0.48) for step in (-half_px, half_px))
    sights = replace(sights, crotches=both)
    return sights, read(sights)


def test_two_separate_answers_are_a_question_not_an_average() -> None:
    sights, reading = ambiguous()
    answers = two_answers(reading)
    assert answers is not None
    assert answers.click == "crotch"
    assert answers.low_mm < reading.length.mean_mm < answers.high_mm
    refusal = check_one_answer(sights, reading)
    assert refusal is not None
    assert [reason.code for reason in refusal.reasons] == ["two_answers"]
    assert refusal.asks == ("crotch",)
    # Where the child stands is no question: no click tells it.
    for stance in ("at wall", "free"):
        asked = [check_one_answer(one.sights, read(one.sights)) for one in children(stance)[:40]]
        assert sum(one is not None for one in asked) <= 2


def test_a_second_answer_that_is_unlikely_is_told_beside_the_number() -> None:
    sights, _ = ambiguous()
    first, other = sights.crotches
    for unlikely in (0.10, 0.15, 0.20):
        crotches = (replace(first, weight=0.8), replace(other, weight=unlikely))
        one_sided = replace(sights, crotches=crotches)
        reading = read(one_sided)
        answers = two_answers(reading)
        if answers is None:
            continue
        assert answers.odds < 0.35
        assert check_one_answer(one_sided, reading) is None
        assert [notice.code for notice in second_answer(reading)] == ["second_answer"]
        low_mm, high_mm = reading.length.interval95_mm
        assert low_mm < answers.low_mm < answers.high_mm < high_mm
        break
    else:
        pytest.fail("wanted a weight at which a second answer is told")


def test_two_wall_bases_are_told_and_no_click_is_asked_for() -> None:
    """Which edge the wall stands on is not settled by pointing at the feet."""
    apart = [
        replace(
            one.sights,
            crotches=tuple(replace(crotch, weight=1.0) for crotch in one.sights.crotches),
            toes=(),
            wall_bases=tuple(
                replace(base, weight=0.48) for base in with_base(one.sights, 35.0, 0.5).wall_bases
            ),
        )
        for one in children("free")[:60]
    ]
    readings = [(one, read(one)) for one in apart]
    two = [(one, reading) for one, reading in readings if two_answers(reading) is not None]
    assert len(two) >= 3
    for sights, reading in two:
        assert check_one_answer(sights, reading) is None
        assert second_answer(reading)
        answers = two_answers(reading)
        assert answers is not None
        low_mm, high_mm = reading.length.interval95_mm
        assert low_mm < answers.low_mm < answers.high_mm < high_mm


@pytest.mark.parametrize(("stance", "most"), [("at wall", 0.08), ("free", 0.2)])
def test_as_shipped_few_good_pictures_are_asked_about_and_the_others_hold_the_truth(
    stance, most
) -> None:
    """At the shipped factor, of children who err as much as it says."""
    asked, held = [], []
    for one in drawn_children(120, seed=5, stance=stance, model=AS_TOLD):
        reading = read(one.sights)
        asked.append(check_one_answer(one.sights, reading) is not None)
        low_mm, high_mm = reading.length.interval95_mm
        held.append(low_mm <= one.inseam_mm <= high_mm)
    assert np.mean(asked) <= most
    assert np.mean(held) >= 0.92


def test_somebody_who_has_clicked_is_not_asked_again() -> None:
    sights, reading = ambiguous()
    clicked = replace(sights, crotches=tuple(replace(one, kind="click") for one in sights.crotches))
    assert check_one_answer(clicked, reading) is None


def test_the_told_interval_holds_the_mixture_s() -> None:
    for reading in [read(one.sights) for one in children("free")[:15]] + [ambiguous()[1]]:
        low_mm, high_mm = reading.length.interval95_mm
        assert low_mm <= reading.interval95_mm[0] + 1e-3
        assert high_mm >= reading.interval95_mm[1] - 1e-3


def test_what_is_not_known_of_the_candidates_and_of_the_world_is_in_the_budget() -> None:
    reading = read_inseam(ambiguous()[0], model=error_model())
    lines = {line.source: line for line in reading.length.budget}
    assert lines[BETWEEN_SOURCE].sd_mm > 20
    assert not lines[BETWEEN_SOURCE].shared
    assert lines[WORLD_SOURCE].sd_mm == pytest.approx(error_model().world_sd_mm)
    assert lines[WORLD_SOURCE].shared


def test_the_known_body_height_is_a_reading_with_a_weight() -> None:
    known = known_of(Child(stature_mm=1180.0, sex="f"))
    assert known is not None
    near = sorted(children("at wall"), key=lambda drawn: abs(drawn.inseam_mm - known.mean_mm))
    apart_mm = []
    for one in near[:12]:
        alone, joined = read(one.sights), read_inseam(one.sights, model=MODEL, known=known)
        assert sum(reading.weight for reading in alone.readings) == pytest.approx(1)
        child_weight = 1 - sum(reading.weight for reading in joined.readings)
        assert 0.05 < child_weight < 0.8
        apart_mm.append([abs(each.length.mean_mm - known.mean_mm) for each in (alone, joined)])
        assert joined.length.sd_mm < alone.length.sd_mm
    # Not for each: what is known also weighs the candidates.
    alone_mm, joined_mm = np.mean(apart_mm, axis=0)
    assert joined_mm < alone_mm


def test_of_an_unknown_child_nothing_is_known_and_the_age_says_less_than_the_height() -> None:
    assert known_of(Child(sex="m")) is None
    by_age, by_height = known_of(Child(age_y=7.0)), known_of(Child(age_y=7.0, stature_mm=1220.0))
    assert by_age is not None
    assert by_height is not None
    assert by_age.sd_mm > 1.3 * by_height.sd_mm


def test_raised_heels_are_told_from_heels_that_are_down() -> None:
    """A rise of the body by a tenth of the leg: floors lower, the drawn ankles by half of it."""
    odds = {"down": [], "raised": []}
    for one in children("at wall")[:40]:
        sights = one.sights
        leg_px = sights.body.leg_px
        odds["down"].append(read(sights).raised_odds)
        rise = np.array([0.0, 0.1 * leg_px])
        passes = sights.body.passes_px.copy()
        # Everything above the feet goes up; the ankles, as the pose model draws them, half as far.
        passes -= rise
        for place in (11, 12):
            passes[:, place] += rise / 2
        raised = replace(
            sights,
            body=replace(sights.body, passes_px=passes),
            crotches=tuple(
                replace(crotch, point_px=crotch.point_px - rise) for crotch in sights.crotches
            ),
        )
        odds["raised"].append(read(raised).raised_odds)
    assert np.median(odds["down"]) < 1 < np.median(odds["raised"])
    assert np.median(odds["raised"]) > 4 * np.median(odds["down"])


def test_raised_heels_are_judged_by_the_pose_model_s_own_joints() -> None:
    """By its joints and their errors, wherever the fused joints are."""
    for one in children("at wall")[:12]:
        alone = replace(
            MODEL,
            alone_shift_parts=(0.0, -0.02),
            alone_shift_part_sds=(0.03, 0.02),
            alone_joint_sd_parts=(0.02, 0.02, 0.015),
        )
        by_itself = read_inseam(one.sights, model=alone.of_pose_alone()).raised_odds
        lower = {
            joint: one.sights.body.point_px(joint) + np.array([0.0, 9.0])
            for joint in ("left_ankle", "right_ankle")
        }
        fused = replace(
            one.sights, body=one.sights.body.with_points(lower), seen_body=one.sights.body
        )
        assert read_inseam(fused, model=alone).raised_odds == pytest.approx(by_itself)
        assert read_inseam(fused, model=MODEL).length.mean_mm != pytest.approx(
            read_inseam(one.sights, model=MODEL).length.mean_mm, abs=0.1
        )
