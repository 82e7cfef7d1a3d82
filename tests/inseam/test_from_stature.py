import pytest

from pose_fit.errors import PersonError
from pose_fit.inseam.from_stature import inseam_from_stature


def test_spread_is_near_twenty_millimetres() -> None:
    # Residual of the derived crotch height on stature, noted with the data.
    assert inseam_from_stature(1280, sex="f").sd_mm == pytest.approx(20, abs=3)


def test_parents_measure_statures_less_well() -> None:
    # Remmits 2023: -3.0 +- 6.2 mm, of which legs take their share of about 0.6.
    lines = {line.source: line.sd_mm for line in inseam_from_stature(1280).length.budget}
    assert lines["stature as measured"] == pytest.approx(0.6 * 6.9, abs=0.5)
    assert inseam_from_stature(1280, stature_sd_mm=30).sd_mm > inseam_from_stature(1280).sd_mm + 5


def test_says_that_it_is_a_guess() -> None:
    inseam = inseam_from_stature(1280)
    assert inseam.method == "stature"
    assert inseam.warnings[0].code == "inseam_from_stature"
    assert inseam.retake


@pytest.mark.parametrize(
    ("stature_mm", "sd_mm", "message"),
    [
        (600, 6, r"80\.0 cm.*190\.0 cm"),
        (1280, 0, "above 0 mm, found 0"),
        (1280, float("nan"), "found nan"),
    ],
)
def test_impossible_statures(stature_mm: float, sd_mm: float, message: str) -> None:
    with pytest.raises(PersonError, match=message):
        inseam_from_stature(stature_mm, stature_sd_mm=sd_mm)
