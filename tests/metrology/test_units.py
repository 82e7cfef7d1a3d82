import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.errors import LengthError
from pose_fit.metrology.units import MM_PER_INCH, both_units, length_text, parse_length_mm

lengths_mm = st.floats(0, 1e5, allow_nan=False)


@pytest.mark.parametrize(
    ("text", "expected_mm"),
    [
        ("648mm", 648.0),
        ("64.8 cm", 648.0),
        ("64,8cm", 648.0),
        ("0.648 m", 648.0),
        ("25.5in", 647.7),
        ("25.5 inches", 647.7),
        ("25 1/2 in", 647.7),
        ("25½ in", 647.7),
        ("½ in", 12.7),
        ("3/4 in", 19.05),
        ("25.5”", 647.7),
        ('25.5"', 647.7),
        ("25.5″", 647.7),
        ("6ft 8in", 2032.0),
        ("6' 8\"", 2032.0),
        ("6′8″", 2032.0),
        ("6 feet 8 inches", 2032.0),
        ("5 FT", 1524.0),
        ("1 m 20 cm", 1200.0),
        ("60 cm 5 mm", 605.0),
        (".5in", 12.7),
        ("  64.8   cm ", 648.0),
        ("0 mm", 0.0),
    ],
)
def test_what_people_write(text, expected_mm):
    """An inch is 25.4 mm and a foot 12 inches (yard and pound agreement of 1959)."""
    assert parse_length_mm(text) == pytest.approx(expected_mm, rel=1e-12)


@pytest.mark.parametrize(
    "text",
    [
        " ",
        "tall",
        "cm",
        "-5cm",
        "5 parsec",
        "1/0 in",
        "1/2/3 in",
        "25..5in",
        "nan mm",
        "inf mm",
        "1e3mm",
        "25in (64cm)",
        "٪5cm",
        "",
        "5\x00cm",
        "25.5in and more",
        "9" * 400 + "mm",
    ],
)
def test_what_is_no_length(text):
    with pytest.raises(LengthError, match=r"is not a length|has no unit"):
        parse_length_mm(text)


@pytest.mark.parametrize(
    "text", ["25", "25.5", "25 1/2", "6ft 12", "6ft 8 9", "1m5", "1m271", "25.5.3in"]
)
def test_a_bare_number_needs_its_unit(text):
    with pytest.raises(LengthError, match="has no unit; write for example"):
        parse_length_mm(text)


@pytest.mark.parametrize("default_unit", [None, "mm", "in"])
@pytest.mark.parametrize(
    ("text", "length_mm"),
    [
        ("4'2", 1270.0),
        ("4ft2", 1270.0),
        ("4 ft 2", 1270.0),
        ("4’2", 1270.0),
        ("4'2 1/2", 1282.7),
        ("3'11", 1193.8),
        ("1m27", 1270.0),
        ("1 m 05", 1050.0),
    ],
)
def test_inches_behind_feet_go_without_saying(text, length_mm, default_unit):
    """As people say their height; nothing else can be meant."""
    assert parse_length_mm(text, default_unit=default_unit) == pytest.approx(length_mm)


def test_a_bare_number_takes_the_unit_it_is_given():
    assert parse_length_mm("25.5", default_unit="in") == pytest.approx(647.7)
    assert parse_length_mm("25 1/2", default_unit="in") == pytest.approx(647.7)
    assert parse_length_mm("64.8cm", default_unit="in") == pytest.approx(648.0)


@pytest.mark.parametrize("text", ["25.5.3", "1,234.5", "25 1", "6 8in", "6ft 80"])
def test_a_unit_for_bare_numbers_serves_one_number(text):
    """Else a thousands separator would make 1.7 mm of 1,234.5 without a word."""
    with pytest.raises(LengthError):
        parse_length_mm(text, default_unit="mm")


@pytest.mark.parametrize("text", ["25.5in 64.8cm", "8in 6ft", "5cm 5cm", "1m 3ft", "6ft 8in 3in"])
def test_two_lengths_are_not_added_up(text):
    with pytest.raises(LengthError, match="more than one length"):
        parse_length_mm(text)


@given(lengths_mm, st.sampled_from(["mm", " mm", "MM "]))
def test_millimetres_come_back(length_mm, unit):
    assert parse_length_mm(f"{length_mm:.6f}{unit}") == pytest.approx(length_mm, abs=1e-6)


@given(st.integers(0, 30), st.integers(0, 11), st.integers(0, 15))
def test_feet_inches_and_sixteenths(feet, inches, sixteenths):
    expected_mm = (feet * 12 + inches + sixteenths / 16) * 25.4
    text = f"{feet}ft {inches} {sixteenths}/16 in"
    assert parse_length_mm(text) == pytest.approx(expected_mm, abs=1e-9)


@given(lengths_mm)
def test_comma_and_point_are_the_same(length_mm):
    text = f"{length_mm:.3f}cm"
    assert parse_length_mm(text.replace(".", ",")) == parse_length_mm(text)


@given(st.text(max_size=30), st.sampled_from([None, "in", "cm"]))
def test_any_text_is_a_length_or_a_clear_error(text, unit):
    try:
        length_mm = parse_length_mm(text, default_unit=unit)
    except LengthError:
        return
    assert math.isfinite(length_mm)
    assert length_mm >= 0


@given(st.floats(0, 5000))
def test_both_units_say_the_same_length(length_mm):
    inches, centimetres = both_units(length_mm).rstrip(")").split(" (")
    assert inches == length_text(length_mm, "in")
    assert parse_length_mm(inches) == pytest.approx(length_mm, abs=0.0501 * MM_PER_INCH)
    assert parse_length_mm(centimetres) == pytest.approx(length_mm, abs=0.501)
