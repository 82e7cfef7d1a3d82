"""Sidewall markings. Bead seats: ISO 5775 / ETRTO as printed in secondary tables."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.bicycle.tyre import AmbiguousMarking, Tyre, read_marking
from pose_fit.errors import TyreMarkingError


@pytest.mark.parametrize(
    ("marking", "wheel_class_in", "bead_seat_mm", "width_mm"),
    [
        ("24 x 2.0", 24, 507, 50.8),
        ("47-507", 24, 507, 47.0),
        ("700x35C", 28, 622, 35.0),
        ("700C x 38", 28, 622, 38.0),
        ("650B x 47", 27.5, 584, 47.0),
        ("12 1/2 x 2 1/4", 12, 203, 57.15),
        ("12½ × 2¼", 12, 203, 57.15),
        ("14 x 1.75", 14, 254, 44.45),
        ("16x1.75", 16, 305, 44.45),
        ("18 X 1,95", 18, 355, 49.53),
        ('20" x 1.75"', 20, 406, 44.45),
        ("26*2", 26, 559, 50.8),
        ("27 x 1 1/4", 27, 630, 31.75),
        ("29 x 2.1", 29, 622, 53.34),
        ("20 x 1 1/8", 20, 451, 28.575),
        ("18 x 1 3/8", 18, 400, 34.925),
        ("28 x 1 5/8 x 1 3/8", 28, 622, 34.925),
    ],
)
def test_names_with_one_meaning(marking, wheel_class_in, bead_seat_mm, width_mm):
    tyre = read_marking(marking)
    assert isinstance(tyre, Tyre)
    assert (tyre.wheel_class_in, tyre.bead_seat_mm) == (wheel_class_in, bead_seat_mm)
    assert tyre.width_mm == pytest.approx(width_mm)


@pytest.mark.parametrize(
    ("marking", "wheel_class_in", "bead_seats_mm"),
    [
        ("24x1 3/8", 24, {520, 540, 547}),
        ("20 × 1⅜", 20, {438, 440, 451}),
        ("26 x 1 3/8", 26, {590, 597}),
        ("26 x 1 1/2", 26, {571, 584}),
        ("16 x 1 3/8", 16, {337, 340, 349}),
        ("28 x 1 1/2", 28, {622, 635}),
        ("26 x 1.375", 26, {559, 599}),
        ("700x35", 28, {622, 635}),
    ],
)
def test_shared_names_are_told_not_guessed(marking, wheel_class_in, bead_seats_mm):
    reading = read_marking(marking)
    assert isinstance(reading, AmbiguousMarking)
    assert not reading
    assert reading.wheel_class_in == wheel_class_in
    assert {tyre.bead_seat_mm for tyre in reading.candidates} == bead_seats_mm
    for seat in bead_seats_mm:
        assert str(seat) in str(reading)


@pytest.mark.parametrize(
    ("marking", "wheel_class_in", "usual_mm"),
    [
        ("20", 20, 406),
        ('20"', 20, 406),
        ("20 inch", 20, 406),
        ("24-inch", 24, 507),
        ("12½", 12, 203),
        ("27.5 in.", 27.5, 584),
    ],
)
def test_a_wheel_size_alone_is_a_size_that_must_be_read_closer(marking, wheel_class_in, usual_mm):
    """What a stock list has: enough to name the wheel, never to measure by."""
    reading = read_marking(marking)
    assert isinstance(reading, AmbiguousMarking)
    assert reading.wheel_class_in == wheel_class_in
    assert reading.likeliest.bead_seat_mm == usual_mm
    assert "is the wheel size alone; read the code on the sidewall" in str(reading)


@pytest.mark.parametrize("marking", ["24x1 3/8 (37-540)", "37-540 24 x 1 3/8"])
def test_the_iso_code_settles_a_shared_name(marking):
    tyre = read_marking(marking)
    assert isinstance(tyre, Tyre)
    assert (tyre.bead_seat_mm, tyre.width_mm) == (540, 37)


def test_two_named_widths_widen_the_outside_diameter():
    one, two = read_marking("26 x 1.75"), read_marking("26 x 1.75/2.125")
    assert isinstance(one, Tyre)
    assert isinstance(two, Tyre)
    assert two.width_range_mm == pytest.approx((44.45, 53.975))
    assert two.outside_diameter_mm == pytest.approx(559 + 44.45 + 53.975)
    assert two.outside_diameter_sd_mm > one.outside_diameter_sd_mm > 0


@pytest.mark.parametrize(
    ("marking", "told"),
    [
        ("", "not a tyre size"),
        ("red", "not a tyre size"),
        ("19 inch", "not a tyre size"),
        ("20 kg", "not a tyre size"),
        ("406", "not a tyre size"),
        ("20 x 1/0", "not a tyre size"),
        ("19 x 1.75", "not|no tyre size in the tables"),
        ("16 x 1 1/2", "not a tyre size in the tables"),
        ("24 x 24", "between 15 and 130 mm wide"),
        ("24 x 0.1", "between 15 and 130 mm wide"),
        ("47-999", "bead seat 999"),
        ("700C", "no width"),
        ("47-507 24x1 3/8", "contradicts itself"),
        ("47-406 24 x 1.75", "contradicts itself"),
    ],
)
def test_no_size_is_an_error_that_says_why(marking, told):
    with pytest.raises(TyreMarkingError, match=told):
        read_marking(marking)


@given(st.sampled_from([203, 305, 406, 451, 507, 540, 559, 622]), st.integers(18, 75))
def test_iso_codes_round_trip(bead_seat_mm, width_mm):
    tyre = read_marking(f"{width_mm}-{bead_seat_mm}")
    assert isinstance(tyre, Tyre)
    assert tyre.iso_code == f"{width_mm}-{bead_seat_mm}"
    assert tyre.outside_diameter_mm == bead_seat_mm + 2 * width_mm


@given(st.text(alphabet="0123456789 x×/.-½⅜abcABC,'\"", max_size=14))
def test_any_text_is_read_or_refused(text):
    try:
        reading = read_marking(text)
    except TyreMarkingError:
        return
    assert reading.marking == text
    assert 12 <= reading.wheel_class_in <= 29
