import pytest

from pose_fit.fit.chance import chance_text


@pytest.mark.parametrize(
    ("probability", "said"),
    [
        (0.0, "under 1%"),
        (0.0099, "under 1%"),
        (0.01, "1%"),
        (0.424, "42%"),
        (0.99, "99%"),
        (0.991, "over 99%"),
        (1.0, "over 99%"),
    ],
)
def test_no_chance_is_told_as_certain(probability, said):
    assert chance_text(probability) == said
