"""Advice by age or body height alone, held against measured children whose legs are known.

Snyder et al. 1977; only children kept from the fit of the tables. Told as families tell them: years
completed, and inches to the nearest.
"""

from collections import Counter
from collections.abc import Callable
from functools import cache

import pandas as pd
import pytest

from calibration.people.measured import children, is_scored
from pose_fit.anthropometry.soles import RIDING_SOLES_MM
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.fit.choice import Choice, choose
from pose_fit.fit.judge import judge
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.inseam.inseam import Inseam
from pose_fit.report.answer import how_sure_of

DEMO = read_catalogue(DEMO_CATALOGUE)


@cache
def by_age(years: int) -> Inseam:
    return inseam_from_age(float(years))


@cache
def by_stature(inches: int) -> Inseam:
    return inseam_from_stature(inches * 25.4)


@pytest.fixture(scope="module")
def known() -> pd.DataFrame:
    table = children().dropna(subset=["inseam"])
    table = table[is_scored(table) & table.age_y.between(2.0, 16.0, inclusive="left")]
    return table.sample(400, random_state=3)


@pytest.mark.parametrize(
    "told",
    [
        lambda child: by_age(int(child.age_y)),
        lambda child: by_stature(round(child.stature / 25.4)),
    ],
    ids=["age", "stature"],
)
def test_guesses_keep_what_they_promise(
    known: pd.DataFrame, told: Callable[[pd.Series], Inseam]
) -> None:
    advised, touching, right = 0, 0, Counter[str]()
    words = Counter[str]()
    for _, child in known.iterrows():
        choice = choose(judge(told(child), DEMO))
        if not isinstance(choice, Choice):
            continue
        advised += 1
        bicycle, changes = choice.best.bicycle, choice.best.changes
        spare_mm = child.inseam + RIDING_SOLES_MM[0] - bicycle.standover_mm
        touching += bicycle.has_top_tube and spare_mm <= 0
        word = how_sure_of(choice.best)
        words[word] += 1
        right[word] += changes.good_from_mm <= child.inseam <= changes.cramped_from_mm
    assert advised > 200
    # At most 2.5 % is accepted.
    assert touching <= 0.025 * advised
    # Fairly sure is from 0.8 on; a guess is never called sure.
    assert words["fairly sure"] > 150
    assert right["fairly sure"] >= 0.8 * words["fairly sure"]
    assert not words["sure"]
