"""How long the bicycles will last: the growth chart, and months for each."""

import math
from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.session import FIELD
from pose_fit.app.style import drawing
from pose_fit.app.views.messages import plain
from pose_fit.drawing.growth_drawing import growth_drawing
from pose_fit.errors import PersonError
from pose_fit.fit.choice import rank
from pose_fit.fit.judge import Fit
from pose_fit.growth.lasting import Lasting, forecast_of, lasting
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import both_units

__all__ = ["lasting_words", "show_growth"]

_MOST: Final = 4
#: A longer list of names is no choice.
_OFFERED: Final = 60


def show_growth(inseam: Inseam, child: Child, fits: Sequence[Fit], *, page: str) -> None:
    """Chart and months for a few bicycles of the visitor's choice."""
    ranked = rank(fits)[:_OFFERED]
    names = [fit.bicycle.name for fit in ranked]
    key = f"{FIELD}{page}.growth"
    kept = [name for name in st.session_state.get(key, names[:2]) if name in names]
    st.session_state[key] = kept or names[:1]
    chosen = st.multiselect("Bicycles to look ahead for", names, key=key, max_selections=_MOST)
    try:
        forecast = forecast_of(inseam, child)
    except PersonError as error:
        st.warning(plain(str(error)))
        return
    lines = lasting([fit for fit in ranked if fit.bicycle.name in chosen], forecast)
    low_mm, high_mm = forecast.interval95_mm
    last = round(float(forecast.months[-1]))
    left, right = st.columns([3, 2], gap="medium", vertical_alignment="center")
    with left:
        drawing(
            growth_drawing(forecast, lines),
            alt=f"Growth chart. Inseam {both_units(float(forecast.mean_mm[0]))} now; in {last} months"
            f" {both_units(float(forecast.mean_mm[-1]))}, between {both_units(float(low_mm[-1]))} and"
            f" {both_units(float(high_mm[-1]))}. "
            + " ".join(lasting_words(line) for line in lines),
        )
    right.markdown("\n".join(f"- {plain(lasting_words(line))}" for line in lines))
    if child.age_y is None or child.sex is None:
        missing = " and ".join(
            word for word, value in (("age", child.age_y), ("sex", child.sex)) if value is None
        )
        st.caption(f"Without the child’s {missing} the forecast is wider than it need be.")


def lasting_words(line: Lasting) -> str:
    """One bicycle's months in a sentence."""
    if line.ready_months > 0:
        when = (
            f"could be recommended in about {line.ready_months:.0f} months"
            if math.isfinite(line.ready_months)
            else "will not fit within three years"
        )
        start = f"{line.name} {when}"
    elif line.recommended:
        start = f"{line.name} fits now"
    else:
        start = f"{line.name} is not recommended now"
    if not math.isfinite(line.until_mm):
        return f"{start}; when it is outgrown is not known."
    if math.isinf(line.outgrown_months):
        return f"{start} and is not outgrown within three years, as likely as not."
    if line.outgrown_months == 0:
        return f"{line.name} is outgrown already, as likely as not."
    low, high = line.window80_months
    late = "more than 36" if math.isinf(high) else f"{high:.0f}"
    return (
        f"{start} and is outgrown in about {line.outgrown_months:.0f} months"
        f" (8 times in 10 between {low:.0f} and {late})."
    )
