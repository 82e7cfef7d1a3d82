import datetime as dt
import itertools
import re
from dataclasses import fields, replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.card import palette
from pose_fit.card.card import (
    ADVICE_LENGTH,
    BICYCLE_LENGTH,
    LABEL_LENGTH,
    LINE_LENGTH,
    MEASURED_LENGTH,
    CardBicycle,
    CardDrawing,
    FitCard,
    Standing,
)
from pose_fit.card.card_words import (
    date_text,
    interval_text,
    result_texts,
    unbroken,
)
from pose_fit.card.tape_strip import tape_of
from pose_fit.errors import InputError
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice


def test_a_card_has_no_place_for_what_identifies_a_child():
    """But the label; whoever adds a place has to think about it here."""
    assert {field.name for field in fields(FitCard)} == {
        "made_on",
        "inseam",
        "inseam_on",
        "measured",
        "bicycles",
        "label",
        "advice",
        "drawing",
        "checked",
        "shop",
        "unit",
        "language",
        "notes",
    }


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"label": "x" * (LABEL_LENGTH + 1)}, "label: wanted at most 200 characters, found 201"),
        ({"shop": "x" * (LINE_LENGTH + 1)}, "shop: wanted at most 120 characters, found 121"),
        ({"advice": ("x" * ADVICE_LENGTH, "y")}, "advice: wanted at most 900 characters"),
        ({"measured": "x" * (MEASURED_LENGTH + 1)}, "measured: wanted at most 400"),
        ({"measured": " \n"}, "wanted how it was measured, found nothing"),
        (
            {"bicycles": (CardBicycle(name="x", standing="try", headline="y"),) * 9},
            "wanted at most 8 bicycles, found 9",
        ),
    ],
)
def test_a_card_that_would_not_fit_its_page_is_refused(card, change, message):
    with pytest.raises(InputError, match=message):
        replace(card, **change)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: CardBicycle(name=" ", standing="try", headline="y"), "name of a bicycle: wanted"),
        (lambda: CardBicycle(name="x", standing="try", headline=""), "headline of a bicycle"),
        (lambda: CardBicycle(name="x", standing="maybe", headline="y"), "wanted one of try, check"),
        (
            lambda: CardBicycle(
                name="x", standing="try", headline="y", reasons=("r" * BICYCLE_LENGTH, "r")
            ),
            "reasons for x: wanted at most 700 characters, found 701",
        ),
        (lambda: CardDrawing("<svg/>", "x", " "), "drawing: wanted a description"),
        (lambda: CardDrawing("<svg/>", "", "x"), "drawing: wanted a caption"),
    ],
)
def test_parts_that_make_no_sense_are_refused(make, message):
    with pytest.raises(InputError, match=message):
        make()


@given(st.text(st.characters(exclude_categories=()), max_size=80))
def test_labels_lose_only_what_cannot_be_printed(label):
    inseam = Inseam.stated(560.0, 10.0)
    card = FitCard(made_on=dt.date(2026, 3, 2), inseam=inseam, measured="x", label=label)
    assert card.label.isprintable()
    seen = [letter for letter in label if letter.isprintable() and not letter.isspace()]
    assert [letter for letter in card.label if not letter.isspace()] == seen


def test_warnings_beyond_their_room_are_counted_not_hidden(card):
    many = (Notice(f"w{number}", f"{number} " + "x" * 98) for number in range(10))
    warnings = replace(card, inseam=Inseam.stated(560.0, 10.0).with_warnings(*many)).warnings
    assert [text[0] for text in warnings[:-1]] == list("0123456")
    assert warnings[-1] == "And 3 more, not shown here."


def test_marks_that_turn_the_writing_are_left_out(card):
    assert replace(card, label="Ada\u202egnp.exe\u200f").label == "Adagnp.exe"


def test_words_of_the_result():
    inseam = Inseam.stated(560.0, 10.0)
    assert result_texts(inseam, "in") == ("22.0 in", "56.0 cm")
    assert result_texts(inseam, "cm") == ("56.0 cm", "22.0 in")
    # 560 +- 1.96 * 10 mm.
    assert interval_text(inseam, "in") == (
        "19 times in 20 (95 %) it lies between 21.3 in (54.0 cm) and 22.8 in (58.0 cm)."
    )
    assert date_text(dt.date(2026, 12, 1)) == "1 December 2026"
    assert (
        unbroken("2 in (5.1 cm) and 2 instruments") == "2\u00a0in (5.1\u00a0cm) and 2 instruments"
    )


@given(st.floats(260, 1090), st.floats(1, 80))
def test_the_tape_shows_the_interval_and_its_marks_are_where_they_say(mean_mm, sd_mm):
    inseam = Inseam.stated(mean_mm, sd_mm)
    tape = tape_of(inseam)
    assert 0 <= tape.low < tape.mean < tape.high <= 1
    _, high_mm = inseam.interval95_mm
    per_mm = (tape.high - tape.mean) / (high_mm - mean_mm)
    for ticks, unit_mm in ((tape.inches, 25.4), (tape.centimetres, 10.0)):
        numbered = [tick for tick in ticks if tick.text]
        assert len(numbered) >= 2
        for tick in numbered:
            wanted = tape.mean + (float(tick.text) * unit_mm - mean_mm) * per_mm
            assert tick.at == pytest.approx(wanted, abs=1e-6)
        assert all(0 <= tick.at <= 1 for tick in ticks)
        places = [tick.at for tick in numbered]
        assert min(b - a for a, b in itertools.pairwise(places)) > 0.04, "numbers would collide"


def _luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    assert re.fullmatch("#[0-9a-f]{6}", colour)
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize(
    ("text", "ground"),
    [
        (palette.INK, palette.PAPER),
        (palette.INK, palette.WASH),
        (palette.INK, palette.TAPE),
        (palette.QUIET, palette.PAPER),
        (palette.QUIET, palette.TAPE),
        (palette.BAND, palette.PAPER),
        (palette.PAPER, palette.BAND),
        *((ink, palette.PAPER) for ink in palette.STANDING_INK.values()),
    ],
)
def test_text_has_the_contrast_of_wcag_1_4_3(text, ground):
    bright, dark = sorted((_luminance(text), _luminance(ground)), reverse=True)
    assert (bright + 0.05) / (dark + 0.05) >= 4.5


def test_each_standing_has_its_own_colour():
    assert len(set(palette.STANDING_INK.values())) == len(get_args(Standing)) == 3
