"""One inseam as people read it: value, interval, budget, what would make it better."""

from collections.abc import Sequence

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


def show_budget(inseam: Inseam) -> None:
    """What the uncertainty is made of, largest first, notes and advice."""
    say = in_language(FAMILY)
    lines = sorted(inseam.length.budget, key=lambda line: -line.sd_mm)
    total = sum(line.sd_mm**2 for line in lines)
    table(
        say.unsure_table,
        (
            (
                source_text(line.source, language()),
                f"{line.sd_mm:.1f} mm",
                f"{line.sd_mm**2 / total:.0%}",
            )
            for line in lines
        ),
    )
    st.caption(say.unsure_note)
    show_notices(inseam.warnings)
    if advice := advice_text(inseam.retake, language()):
        lines_of_advice = "\n".join(f"- {plain(line)}" for line in advice)
        st.markdown(f"**{say.for_surer}**\n{lines_of_advice}")
