"""The pictures with their marks, face hidden, side by side, and what each said."""

from collections.abc import Callable, Sequence
from typing import Final

import streamlit as st
from PIL import Image
from streamlit.delta_generator import DeltaGenerator

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.measuring import Outcome
from pose_fit.app.picture_source import jpeg_source
from pose_fit.app.session import said_of
from pose_fit.app.session_pose import looked_at
from pose_fit.app.style import raw
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language, language, unit
from pose_fit.app.turns import Turns
from pose_fit.app.worker_jobs import Drawn, draw
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.errors import InputError, WorkStoppedError
from pose_fit.measure import PhotoMeasurement
from pose_fit.privacy.shown_faces import SHOWN_SIDE_PX
from pose_fit.refusal import Refusal
from pose_fit.workers.worker_pool import Job

__all__ = ["marks_in_words", "show_found", "show_pictures"]

#: Stands where the program that hides the face stopped.
_NO_PICTURE: Final = Image.new("RGB", (3, 4), (200, 200, 200))


def show_pictures(outcomes: Sequence[Outcome], *, odd: int | None) -> None:
    """Every measured picture with what it said; ``odd`` is the place of the one unlike the others."""
    say = in_language(FAMILY)
    shown, captions, alts, odd_shown = [], [], [], None
    for place, outcome in enumerate(outcomes):
        result = outcome.result
        if isinstance(result, PhotoMeasurement):
            length = length_text(result.inseam.mean_mm)
            words = say.picture_odd if place == odd else say.picture_says
            shown.append(outcome)
            told = words.format(number=place + 1, length=length)
            captions.append(told if len(outcomes) > 1 else length)
            alts.append(marks_in_words(outcome.shot.name, result))
            if place == odd:
                odd_shown = len(shown) - 1
    _side_by_side(shown, captions, alts, odd=odd_shown)


def show_found(outcomes: Sequence[Outcome]) -> None:
    """Pictures that gave no number, under their names, with what was found in them."""
    names = [outcome.shot.name for outcome in outcomes]
    _side_by_side(outcomes, names, names)


def marks_in_words(name: str, result: PhotoMeasurement) -> str:
    """The marks for those who do not see them."""
    length = length_text(result.inseam.mean_mm)
    return in_language(FAMILY).marked.format(name=name, length=length)


def _side_by_side(
    outcomes: Sequence[Outcome],
    captions: Sequence[str],
    alts: Sequence[str],
    *,
    odd: int | None = None,
) -> None:
    place = st.empty()
    sources = _drawn(outcomes, place)
    figures = "".join(
        f'<figure class="{"pf-odd" if number == odd else ""}"><img class="pf-picture"'
        f' alt="{raw(alt)}" src="{source}"><figcaption>{raw(caption)}</figcaption></figure>'
        for number, (source, caption, alt) in enumerate(zip(sources, captions, alts, strict=True))
    )
    place.html(f'<div class="pf-pictures pf-of-{min(len(outcomes), 3)}">{figures}</div>')


def _drawn(outcomes: Sequence[Outcome], place: DeltaGenerator) -> list[str]:
    """Each picture as the page's own data, made once for each result; ``place`` says what is awaited."""
    say = in_language(FAMILY)

    def tell(ahead: int) -> None:
        words = say.ahead_one if ahead == 1 else say.ahead.format(count=ahead)
        place.html(f'<p class="pf-quiet" role="status">{raw(words if ahead else say.marking)}</p>')

    with Turns() as turns:
        asked = [_shown(outcome) or _drawing(outcome, turns) for outcome in outcomes]
        return [
            one if isinstance(one, str) else _source(outcome, turns, one, tell)
            for outcome, one in zip(outcomes, asked, strict=True)
        ]


def _source(
    outcome: Outcome, turns: Turns, drawing: Job[Drawn], tell: Callable[[int], None]
) -> str:
    said = said_of(outcome.shot)
    try:
        drawn = turns.outcome(drawing, tell=tell)
    except WorkStoppedError:
        source = jpeg_source(_NO_PICTURE, longest_px=SHOWN_SIDE_PX)
    else:
        source, said.faces = drawn.source, drawn.faces
    said.shown = _version(outcome), source
    return source


def _version(outcome: Outcome) -> tuple[object, ...]:
    """By what a drawing of a shot is known: a task gives one measurement, or what it was refused for."""
    refused = outcome.result if isinstance(outcome.result, Refusal) else None
    return outcome.task, outcome.heels_open, refused, unit(), language()


def _shown(outcome: Outcome) -> str | None:
    """The drawing, where it was made already."""
    shown = said_of(outcome.shot).shown
    return shown[1] if shown is not None and shown[0] == _version(outcome) else None


def _drawing(outcome: Outcome, turns: Turns) -> Job[Drawn]:
    """A turn to draw the picture with what was found, faces hidden."""
    texts = DRAWING_TEXTS[language()]
    result = None if isinstance(outcome.result, InputError) else outcome.result
    looked = looked_at(outcome.shot.photo)
    faces = said_of(outcome.shot).faces
    return turns.submit(draw, looked, result, unit(), texts, faces)
