import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.body.crotch import CrotchPoint
from pose_fit.errors import InputError
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.legwear import LEGWEAR, LOOSE_SHARE, check_legwear, hang_below_crotch_mm

MODEL = error_model()


def point(thigh_part: float) -> CrotchPoint:
    return CrotchPoint(np.array([450.0, 700.0]), 2.0, 0.5, 20.0, thigh_part)


@given(st.floats(0.15, 0.5))
def test_unknown_legwear_is_as_unsure_as_drawing_from_both(thigh_part: float) -> None:
    """Monte Carlo of the mixture against its formula."""
    rng = np.random.default_rng(1)
    draws = 40_000
    is_loose = rng.random(draws) < LOOSE_SHARE
    hangs = np.empty(draws)
    for loose, legwear in ((False, "fitted"), (True, "loose")):
        mean_mm, sd_mm = hang_below_crotch_mm(point(thigh_part), legwear, model=MODEL)
        hangs[is_loose == loose] = rng.normal(mean_mm, sd_mm, int((is_loose == loose).sum()))
    mean_mm, sd_mm = hang_below_crotch_mm(point(thigh_part), None, model=MODEL)
    assert mean_mm == pytest.approx(hangs.mean(), abs=0.4)
    assert sd_mm == pytest.approx(hangs.std(), rel=0.02)


def test_loose_cloth_hangs_lower_and_is_less_sure() -> None:
    fitted, loose = (
        hang_below_crotch_mm(point(0.26), legwear, model=MODEL) for legwear in ("fitted", "loose")
    )
    assert loose[0] > fitted[0]
    assert loose[1] > fitted[1]


def test_another_word_is_refused_by_name() -> None:
    assert [check_legwear(name) for name in LEGWEAR] == list(LEGWEAR)
    with pytest.raises(InputError, match="found 'baggy'"):
        check_legwear("baggy")
