"""Every word of the drawings is there in each language, with the same places to fill."""

import dataclasses
import string

import pytest

from pose_fit.drawing.child_on_bicycle import standing_svg
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS, ENGLISH
from pose_fit.drawing.figure import figure
from pose_fit.drawing.legend import lettering
from pose_fit.fit.judge import judge
from pose_fit.fit.shown import SHOWN
from pose_fit.inseam.inseam import Inseam
from tests.fit.bikes import DEMO_BY_NAME


def places(text):
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("language", sorted(DRAWING_TEXTS))
def test_each_language_has_every_text_with_its_places(language):
    texts = DRAWING_TEXTS[language]
    for field in dataclasses.fields(texts):
        said, english = getattr(texts, field.name), getattr(ENGLISH, field.name)
        if isinstance(english, str):
            assert said.strip()
            assert places(said) == places(english), field.name
        else:
            assert set(said) == set(english)
            assert all(said.values())
    assert set(texts.headlines) == set(SHOWN)


@pytest.mark.parametrize("language", sorted(DRAWING_TEXTS))
def test_the_face_on_pictures_has_every_letter(language):
    """A letter that a face lacks is drawn as a box."""
    face = lettering((1200, 1600))
    texts = DRAWING_TEXTS[language]
    said = (getattr(texts, field.name) for field in dataclasses.fields(texts))
    letters = {
        letter
        for text in said
        for letter in (text if isinstance(text, str) else "".join(text.values()))
        if not letter.isspace()
    }
    box = bytes(face.getmask("\ue000"))
    assert [letter for letter in sorted(letters) if bytes(face.getmask(letter)) == box] == []


def test_a_drawing_speaks_the_language_and_unit_it_is_asked_for():
    bike = DEMO_BY_NAME["Brambit 24"]
    (fit,) = judge(Inseam.stated(640.0, 6.0), (bike,))
    shape = figure(640.0, bike)
    spanish = DRAWING_TEXTS["es"]
    svg = standing_svg(shape, fit, unit="cm", texts=spanish)
    assert spanish.headlines[fit.shown] in svg
    assert "cm (" in svg
    assert "saddle" not in svg
    assert "inseam" not in svg
