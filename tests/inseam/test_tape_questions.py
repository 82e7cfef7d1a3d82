import pytest

from pose_fit.errors import PersonError
from pose_fit.inseam.tape_questions import question_tape


@pytest.mark.parametrize(
    ("reading_mm", "known", "code"),
    [
        # The whole height written down, known or plausible for the age.
        (1280, {"stature_mm": 1285}, "tape_looks_like_stature"),
        (1281, {"age_y": 8}, "tape_looks_like_stature"),
        (1050, {"age_y": 4, "sex": "f"}, "tape_looks_like_stature"),
        # A clothing size, with nothing else known: 116, 128.
        (1160, {}, "tape_looks_like_stature"),
        # Trousers of a child of 130 cm: their seam, not its leg.
        (560, {"stature_mm": 1300}, "tape_looks_like_trousers"),
        # Long for the age, but no six-year-old is 74 cm tall.
        (740, {"age_y": 6}, "inseam_implausible"),
        (680, {"stature_mm": 1300, "sex": "m"}, "inseam_rare"),
    ],
)
def test_questions(reading_mm: float, known: dict[str, float], code: str) -> None:
    (notice,) = question_tape(reading_mm, **known)  # type: ignore[arg-type]
    assert notice.code == code
    assert f"({reading_mm / 10:.1f} cm)" in notice.message


@pytest.mark.parametrize(
    ("reading_mm", "known"),
    [
        (605, {"stature_mm": 1280, "sex": "f"}),
        (600, {"age_y": 8}),
        (560, {"age_y": 8}),
        (650, {}),
        (925, {}),
    ],
)
def test_ordinary_readings_are_not_questioned(reading_mm: float, known: dict[str, float]) -> None:
    assert question_tape(reading_mm, **known) == ()  # type: ignore[arg-type]


def test_the_stature_must_be_one() -> None:
    with pytest.raises(PersonError, match=r"80\.0 cm.*190\.0 cm.*6\.0 cm"):
        question_tape(600, stature_mm=60)
