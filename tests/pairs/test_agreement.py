"""Statistics of photo against tape, held against outside values and by simulation."""

import datetime as dt
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from scipy import stats

from pose_fit.errors import PersonError
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.pairs.agreement import agreement, agreement_by_group, binomial95, odd_pairs
from pose_fit.pairs.correction import Correction
from pose_fit.pairs.difference_plot import difference_plot, plot_in_words
from pose_fit.pairs.pair import Pair
from pose_fit.pairs.pair_texts import PAIR_TEXTS
from pose_fit.pairs.pair_words import bias_words, group_words, limits_words, spread_words

DAY = dt.date(2026, 3, 2)


def pair(difference_mm: float, *, tape_mm: float = 600.0, sd_mm: float = 12.0, **more) -> Pair:
    photo = Inseam(
        UncertainLength(tape_mm + difference_mm, (Contribution("posture", sd_mm),)), "photo"
    )
    facts = {"name": f"{difference_mm:+g}", "taken_by": "Ada", "day": DAY} | more
    return Pair(photo=photo, readings_mm=(tape_mm,), **facts)


def pairs_of(*differences_mm: float, **more) -> list[Pair]:
    return [pair(difference_mm, **more) for difference_mm in differences_mm]


def test_bias_and_spread_are_those_of_the_textbook():
    """Values of scipy.stats, another implementation than the special functions used."""
    values = (3.0, -5.0, 11.0, 7.0, 0.0, 2.0)
    found = agreement(pairs_of(*values))
    assert found.bias_mm == pytest.approx(3.0)
    expected = stats.t.interval(0.95, 5, loc=3.0, scale=stats.sem(values))
    assert found.bias95_mm == pytest.approx(expected)
    sd = np.std(values, ddof=1)
    assert found.sd_mm == pytest.approx(sd)
    assert found.sd95_mm == pytest.approx(
        (sd * np.sqrt(5 / stats.chi2.ppf(0.975, 5)), sd * np.sqrt(5 / stats.chi2.ppf(0.025, 5)))
    )
    assert found.limits_mm == pytest.approx((3 - 1.959964 * sd, 3 + 1.959964 * sd))


def test_a_single_pair_has_no_spread_and_no_interval():
    found = agreement(pairs_of(4.0))
    assert (found.bias95_mm, found.sd_mm, found.sd95_mm, found.limits_mm) == (None,) * 4
    assert found.coverage95[0] == pytest.approx(0.025)


@pytest.mark.parametrize(("hits", "count"), [(0, 7), (7, 7), (36, 38), (19, 20), (1, 1)])
def test_the_share_has_the_exact_binomial_interval(hits, count):
    exact = stats.binomtest(hits, count).proportion_ci(0.95, "exact")
    assert binomial95(hits, count) == pytest.approx((exact.low, exact.high))


def test_a_difference_is_covered_with_the_tapes_own_error_in_it():
    """Photo 12 mm, careful single tape 8.3 mm: 95 in 100 differences lie within 28.5 mm."""
    one = pair(28.0)
    assert 1.96 * one.photo.sd_mm < 28.0 < 1.96 * one.expected_sd_mm
    assert one.is_covered
    assert not pair(30.0).is_covered
    assert pair(30.0, care="hasty").is_covered


def test_true_intervals_cover_as_they_say():
    """Differences drawn as photo and tape state them: 95 in 100 are covered."""
    rng = np.random.default_rng(3)
    sd_mm = pair(0.0).expected_sd_mm
    found = agreement(pairs_of(*rng.normal(0, sd_mm, 4000)))
    assert found.coverage95[0] < 0.95 < found.coverage95[1]


def test_groups_are_told_apart_and_what_all_share_is_left_out():
    some = pairs_of(4.0, 6.0, reference="letter", taken_by="Bo")
    more = pairs_of(-2.0, reference="door", legwear="snug")
    groups = {group_words(found): found for found in agreement_by_group([*some, *more])}
    assert set(groups) == {
        "object: Letter paper",
        "object: a door",
        "legwear: leggings or bare legs",
        "legwear: not said",
        "tape held by: Ada",
        "tape held by: Bo",
    }
    assert groups["object: Letter paper"].bias_mm == pytest.approx(5.0)
    assert groups["tape held by: Ada"].count == 1


def test_an_odd_pair_is_named_and_drawn_apart():
    pairs = [*pairs_of(1.0, 3.0, -4.0, 2.0, 0.0), pair(90.0, name="case <7>")]
    assert [odd.name for odd in odd_pairs(pairs)] == ["case <7>"]
    svg = ET.fromstring(difference_plot(pairs))
    named = [text.text for text in svg.iter("{http://www.w3.org/2000/svg}text")]
    assert "case <7>" in named
    assert len(list(svg.iter("{http://www.w3.org/2000/svg}circle"))) == 5
    assert plot_in_words(pairs).endswith("Look again at case <7>.")


def test_the_plot_shows_bias_and_limits_where_they_are():
    pairs = pairs_of(-10.0, 0.0, 10.0)
    svg = ET.fromstring(difference_plot(pairs))
    lines = {
        text.text: float(text.get("y")) - 4
        for text in svg.iter("{http://www.w3.org/2000/svg}text")
        if text.text and ("bias" in text.text or "limit" in text.text)
    }
    bias, low, high = lines["bias +0"], lines["lower limit -20"], lines["upper limit +20"]
    assert high < bias < low
    assert low - bias == pytest.approx(bias - high, abs=0.2)


def test_what_may_be_chance_is_told_so_of_a_single_pair_too():
    assert bias_words(agreement(pairs_of(6.0))).endswith("too long. That may be chance.")
    assert bias_words(agreement(pairs_of(6.0, -4.0))).endswith("too long. That may be chance.")
    assert bias_words(agreement(pairs_of(6.0, 5.0, 7.0, 6.0))).endswith("read too long.")


@pytest.mark.parametrize("texts", PAIR_TEXTS.values(), ids=PAIR_TEXTS)
def test_nothing_is_told_to_be_nought_millimetres_from_nought_to_nought(texts):
    """Photo and tape that agree to the last figure: who scatters by less than 1 mm is told so."""
    found = agreement(pairs_of(-0.1, -0.1, -0.1))
    assert "1 mm" in spread_words(found, texts)
    assert not re.search(r"\b0 mm|\b0 (to|a) 0\b|-0", spread_words(found, texts))
    assert "-0" not in limits_words(found, texts)
    hardly = Correction(pairs=3, offset_mm=0.2, offset_sd_mm=4.0).words(texts)
    assert "1 mm" in hardly
    assert not re.search(r"\b0 mm", hardly)


def test_a_single_pair_is_drawn_too():
    drawn = difference_plot(pairs_of(4.0))
    ET.fromstring(drawn)
    assert drawn.count("<circle") == 1
    assert "bias +4" in drawn
    # Of one pair nobody knows how much others scatter.
    assert "limit" not in drawn


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"tape_mm": 60.0}, "an inseam lies between|tape reading"),
        ({"taken_by": " "}, "held the tape"),
    ],
)
def test_a_pair_that_cannot_be_is_refused(more, message):
    with pytest.raises(PersonError, match=message):
        pair(4.0, **more)
