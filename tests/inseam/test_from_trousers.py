import pytest

from pose_fit.errors import PersonError
from pose_fit.inseam.from_trousers import inseam_from_trousers


def test_the_seam_is_shorter_than_the_inseam() -> None:
    inseam = inseam_from_trousers(560)
    assert inseam.method == "trousers"
    assert 590 < inseam.mean_mm < 640
    low_mm, high_mm = inseam.interval95_mm
    assert low_mm < 580  # trousers that touch the floor and hang little
    assert high_mm > 640  # outgrown ones
    assert inseam.warnings[0].code == "inseam_from_trousers"


def test_looking_at_the_hem_helps() -> None:
    looked = inseam_from_trousers(560, hem_above_floor_mm=70)
    assert looked.mean_mm == inseam_from_trousers(560, hem_above_floor_mm=30).mean_mm + 40
    assert looked.sd_mm < inseam_from_trousers(560).sd_mm


@pytest.mark.parametrize(
    ("seam_mm", "hem_mm", "message"),
    [
        (0, None, "above 0 mm"),
        (560, -5, "found -5"),
        (560, 600, "found 600"),
        (50, None, r"25\.0 cm"),
    ],
)
def test_impossible_lengths(seam_mm: float, hem_mm: float | None, message: str) -> None:
    with pytest.raises(PersonError, match=message):
        inseam_from_trousers(seam_mm, hem_above_floor_mm=hem_mm)
