"""How sure an answer is, in a word: by known chances, and by soles that nobody stated."""

import pytest

from pose_fit.anthropometry.soles import SOLES_BY_RULER_SD_MM, UNKNOWN_SOLES_MM
from pose_fit.fit.judge import judge
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.other_soles import with_other_soles
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.report.answer import how_sure_of
from tests.fit.bikes import full


def by_photo(mean_mm: float, *, soles_sd_mm: float, weight: float = 1.0) -> Inseam:
    """An inseam from a photo whose floor is seen by the feet, in part or alone."""
    soles_mm = weight * soles_sd_mm * error_model().interval_factor
    budget = (Contribution("pose model", 6.0), Contribution("shoe soles", soles_mm, shared=True))
    return Inseam(UncertainLength(mean_mm, budget), "photo")


def word(inseam: Inseam, *, standover_mm: float) -> str:
    bicycle = full(standover_mm=standover_mm, saddle_min_mm=600.0, saddle_max_mm=1000.0)
    (fit,) = judge(inseam, [bicycle])
    return how_sure_of(fit)


#: Room above the bar for which the chance is over 0.95 with soles unknown, though not with thick ones.
ENOUGH_BUT_FOR_THICK_SOLES_MM = 45.0


def test_an_answer_that_hangs_on_soles_nobody_stated_is_not_called_sure():
    standover_mm = 640 + 15 - ENOUGH_BUT_FOR_THICK_SOLES_MM
    unknown = by_photo(640, soles_sd_mm=UNKNOWN_SOLES_MM[1])
    assert word(unknown, standover_mm=standover_mm) == "fairly sure"
    # Somebody measured them; or they are unknown, but there is room for the thickest.
    measured = by_photo(640, soles_sd_mm=SOLES_BY_RULER_SD_MM)
    assert word(measured, standover_mm=standover_mm) == "sure"
    assert word(unknown, standover_mm=standover_mm - 25) == "sure"


def test_bare_feet_count_too_where_the_bicycle_may_be_outgrown():
    """With bare feet in the photo the legs are longer than supposed: outgrown sooner."""
    bicycle = full(standover_mm=500.0, saddle_min_mm=600.0, saddle_max_mm=790.0)
    unknown, measured = (
        by_photo(640, soles_sd_mm=sd_mm) for sd_mm in (UNKNOWN_SOLES_MM[1], SOLES_BY_RULER_SD_MM)
    )
    (probe,) = judge(measured, [bicycle])
    edge_mm = probe.changes.cramped_from_mm

    def at(inseam: Inseam, below_mm: float) -> str:
        return how_sure_of(*judge(by_photo_moved(inseam, edge_mm - below_mm), [bicycle]))

    words = [(at(unknown, below_mm), at(measured, below_mm)) for below_mm in range(5, 60, 5)]
    assert ("fairly sure", "sure") in words
    assert words[-1] == ("sure", "sure")


def by_photo_moved(inseam: Inseam, mean_mm: float) -> Inseam:
    return Inseam(UncertainLength(mean_mm, inseam.length.budget), inseam.method)


@pytest.mark.parametrize("weight", [1.0, 0.6])
def test_other_soles_move_the_inseam_by_all_of_their_thickness(weight):
    unknown = by_photo(640, soles_sd_mm=UNKNOWN_SOLES_MM[1], weight=weight)
    barefoot, thick = with_other_soles(unknown)
    assert barefoot.mean_mm - thick.mean_mm == pytest.approx(30)
    assert barefoot.mean_mm == pytest.approx(640 + UNKNOWN_SOLES_MM[0])
    assert barefoot.sd_mm < unknown.sd_mm


def test_nothing_is_supposed_of_known_soles_or_of_a_tape():
    assert with_other_soles(by_photo(640, soles_sd_mm=SOLES_BY_RULER_SD_MM)) == ()
    assert with_other_soles(Inseam.stated(640, 10)) == ()
    # The shortest inseam there is stays one.
    low, _ = with_other_soles(by_photo(250, soles_sd_mm=UNKNOWN_SOLES_MM[1]))[::-1]
    assert low.mean_mm == 250
