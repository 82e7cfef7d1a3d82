import numpy as np
import pytest

from pose_fit.inseam.cloth_hang import SHARES, hang_below_crotch_mm
from pose_fit.inseam.error_model import error_model
from pose_fit.task.legwear import LEGWEAR

MODEL = error_model()


def test_unknown_legwear_is_as_unsure_as_drawing_from_all() -> None:
    """Monte Carlo of the mixture against its formula."""
    rng = np.random.default_rng(1)
    worn = rng.choice(3, size=200_000, p=SHARES)
    means_mm, sds_mm = np.transpose(
        [hang_below_crotch_mm(legwear, model=MODEL) for legwear in LEGWEAR[:3]]
    )
    hangs_mm = rng.normal(means_mm[worn], sds_mm[worn])
    mean_mm, sd_mm = hang_below_crotch_mm(None, model=MODEL)
    assert mean_mm == pytest.approx(hangs_mm.mean(), abs=0.2)
    assert sd_mm == pytest.approx(hangs_mm.std(), rel=0.01)


def test_looser_cloth_hangs_lower_and_is_less_sure() -> None:
    hangs = [hang_below_crotch_mm(legwear, model=MODEL) for legwear in LEGWEAR[:3]]
    assert hangs == sorted(hangs)
    assert [sd for _, sd in hangs] == sorted(sd for _, sd in hangs)
