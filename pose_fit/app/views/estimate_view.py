"""One inseam as people read it: value, interval, budget, what would make it better."""

import math
from collections import defaultdict
from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.app.inputs.lengths import length_parts, length_text
from pose_fit.app.style import drawing, raw, table
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.texts.notice_texts import advice_text, source_text
from pose_fit.app.views.messages import plain, show_notices
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.drawing.interval_drawing import Row, interval_drawing
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

__all__ = ["half_width_text", "interval_words", "show_budget", "show_intervals", "show_value"]

#: A source with a smaller part of the variance is not told by itself.
_SMALL: Final = 0.01


def show_value(inseam: Inseam) -> None:
    """The visitor's unit large, the other beside it, and the interval in words."""
    first, second = length_parts(inseam.mean_mm)
    st.html(
        f'<p class="pf-inseam"><strong class="pf-value">{raw(first)}</strong>'
        f' <small>{raw(second)}</small></p><p class="pf-interval">{raw(interval_words(inseam))}</p>'
    )


def interval_words(inseam: Inseam) -> str:
    """Between what the inseam is, 19 times in 20."""
    low_mm, high_mm = inseam.interval95_mm
    between = in_language(FAMILY).between
    return between.format(low=length_text(low_mm), high=length_text(high_mm))


def half_width_text(inseam: Inseam) -> str:
    """Half of the interval in which it is 19 times in 20."""
    return f"{COVERAGE_FACTOR_95 * inseam.sd_mm:.0f} mm"


def show_intervals(readings: Sequence[tuple[str, Inseam]]) -> None:
    """Several inseams above each other on one scale."""
    rows = [Row.of(name, inseam) for name, inseam in readings]
    alt = " ".join(
        f"{name}: {length_text(inseam.mean_mm)}. {interval_words(inseam)}"
        for name, inseam in readings
    )
    drawing(interval_drawing(rows, texts=DRAWING_TEXTS[language()]), alt=alt)


def _variances(inseam: Inseam, rest: str) -> list[tuple[str, float]]:
    """Each source once, the largest first, square millimetres; the small ones together."""
    variances: defaultdict[str, float] = defaultdict(float)
    for line in inseam.length.budget:
        variances[source_text(line.source, language())] += line.sd_mm**2
    least = _SMALL * inseam.sd_mm**2
    shown = [(name, each) for name, each in variances.items() if each >= least]
    shown.sort(key=lambda found: -found[1])
    left = sum(each for each in variances.values() if each < least)
    return [*shown, (rest, left)] if left else shown


def show_budget(inseam: Inseam) -> None:
    """What the uncertainty is made of, largest first, notes and advice."""
    say = in_language(FAMILY)
    total = inseam.sd_mm**2
    table(
        say.unsure_table,
        (
            (name, f"{math.sqrt(variance):.1f} mm", f"{variance / total:.0%}")
            for name, variance in _variances(inseam, say.unsure_rest)
        ),
    )
    st.caption(say.unsure_note)
    show_notices(inseam.warnings)
    if advice := advice_text(inseam.retake, language()):
        lines_of_advice = "\n".join(f"- {plain(line)}" for line in advice)
        st.markdown(f"**{say.for_surer}**\n{lines_of_advice}")
