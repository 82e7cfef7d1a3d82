"""The legs of the side view against the measured children they come from."""

import numpy as np
import pytest

from calibration.people.leg_proportions import proportions
from pose_fit.fit.leg import THIGH_SCATTER, Leg
from pose_fit.fit.policy import Rider

INSEAMS_MM = np.array([350.0, 500.0, 650.0, 800.0])


@pytest.mark.parametrize(
    ("length", "field"),
    [("thigh", "thigh_mm"), ("shank", "shank_mm"), ("ankle height", "ankle_mm")],
)
def test_the_shipped_lines_are_what_the_data_give(length: str, field: str) -> None:
    line = proportions().set_index("length").loc[length]
    shipped_mm = getattr(Leg.of_inseam(INSEAMS_MM, rider=Rider()), field)
    assert shipped_mm == pytest.approx(line.intercept_mm + line.slope * INSEAMS_MM, abs=0.1)


def test_the_thighs_scatter_is_that_of_the_data_at_the_middle_inseam() -> None:
    line = proportions().set_index("length").loc["thigh"]
    assert line.sd_mm == pytest.approx(600 * THIGH_SCATTER, abs=1.0)
