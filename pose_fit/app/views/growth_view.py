"""How long the bicycles will last: the growth chart, and months for each."""

from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.session import Fields
from pose_fit.app.style import drawing
from pose_fit.app.texts.growth_texts import GROWTH
from pose_fit.app.texts.language import in_language, language, unit
from pose_fit.app.views.bicycle_words import how_long
from pose_fit.app.views.messages import plain
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.drawing.growth_drawing import growth_drawing
from pose_fit.fit.choice import rank
from pose_fit.fit.judge import Fit
from pose_fit.growth.forecast import GrowthForecast
from pose_fit.growth.lasting import lasting

__all__ = ["show_growth"]

_MOST: Final = 4
#: A longer list of names is no choice.
_OFFERED: Final = 60


def show_growth(
    forecast: GrowthForecast | None, fits: Sequence[Fit], *, page: str, knows_child: bool
) -> None:
    """Chart and months for a few bicycles of the visitor's choice."""
    say = in_language(GROWTH)
    if forecast is None:
        st.caption(say.unknown)
        return
    ranked = rank(fits)[:_OFFERED]
    names = [fit.bicycle.name for fit in ranked]
    key = Fields(f"{page}.growth").key("names")
    kept = [name for name in st.session_state.get(key, names[:2]) if name in names]
    st.session_state[key] = kept or names[:1]
    chosen = st.multiselect(say.choose, names, key=key, max_selections=_MOST)
    shown = [fit for fit in ranked if fit.bicycle.name in chosen]
    lines = lasting(shown, forecast)
    low_mm, high_mm = forecast.interval95_mm
    told = [f"{line.name}: {how_long(fit, line)}." for fit, line in zip(shown, lines, strict=True)]
    alt = say.chart_alt.format(
        now=length_text(float(forecast.mean_mm[0])),
        months=round(float(forecast.months[-1])),
        then=length_text(float(forecast.mean_mm[-1])),
        low=length_text(float(low_mm[-1])),
        high=length_text(float(high_mm[-1])),
    )
    svg = growth_drawing(forecast, lines, unit=unit(), texts=DRAWING_TEXTS[language()])
    drawing(svg, alt=" ".join([alt, *told]))
    st.markdown("\n".join(f"- {plain(line)}" for line in told))
    if not knows_child:
        st.caption(say.wider)
