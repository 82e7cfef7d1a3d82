import pytest

from pose_fit.errors import PersonError
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import inseam_from_stature


@pytest.mark.parametrize("age_y", [4, 6, 8, 10])
def test_age_alone_is_worth_little(age_y: float) -> None:
    # "From age alone an SD of 30-45 mm."
    inseam = inseam_from_age(age_y)
    assert inseam.method == "age"
    assert 30 <= inseam.sd_mm <= 47
    assert inseam.sd_mm > 1.4 * inseam_from_stature(inseam.mean_mm / 0.46).sd_mm


def test_budget_names_the_countries() -> None:
    sources = {line.source: line.sd_mm for line in inseam_from_age(7, sex="m").length.budget}
    assert sources["statures differ between countries"] > 12
    assert sources["stature differs between children of one age"] > 20


def test_an_age_outside_the_tables() -> None:
    with pytest.raises(PersonError, match="found 1"):
        inseam_from_age(1)
