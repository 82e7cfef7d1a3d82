"""Drawings: what stands where, and that nothing hangs on colour alone."""

import re
import xml.etree.ElementTree as ET

import pytest

from pose_fit.drawing.colours import INK, QUIET, SHOWN_COLOUR
from pose_fit.drawing.interval_drawing import Row, interval_drawing


def test_values_stand_between_their_ends_and_in_their_order():
    rows = [Row("Picture", 600, 570, 630), Row("<Tape>", 590, 580, 600)]
    svg = interval_drawing(rows)
    root = ET.fromstring(svg)
    assert "<Tape>" in list(root.itertext())
    bars = [
        (float(e.get("x1")), float(e.get("x2")))
        for e in root.iter("{http://www.w3.org/2000/svg}line")
        if e.get("stroke-width") == "4"
    ]
    ((a_low, a_high), (b_low, b_high)) = bars
    assert a_low < b_low < b_high < a_high
    # 30 mm against 10 mm on one scale.
    assert (a_high - a_low) / (b_high - b_low) == pytest.approx(3, abs=0.02)


def _luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("colour", [*SHOWN_COLOUR.values(), INK, QUIET, "#0b5f5a", "#5a6d73"])
def test_words_have_the_contrast_of_wcag_aa(colour):
    """4.5 to 1 for text (WCAG 2.2, 1.4.3), on white and on the tint of the fields."""
    assert re.fullmatch("#[0-9a-f]{6}", colour)
    for ground in ("#ffffff", "#eef3f2"):
        light, dark = sorted((_luminance(ground), _luminance(colour)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5
