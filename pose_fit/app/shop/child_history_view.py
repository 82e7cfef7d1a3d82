"""Earlier cases of the same child, and its own growth line."""

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.local_time import today
from pose_fit.app.shop.case_words import give_or_take
from pose_fit.app.style import drawing, table
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import day_text, in_language, language, unit
from pose_fit.app.views.messages import fault_text
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.child_history import forecast_for, measured_inseams
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.drawing.growth_drawing import PastPoint, growth_drawing
from pose_fit.errors import PersonError
from pose_fit.metrology.units import DAYS_PER_YEAR

__all__ = ["show_child_history"]


def show_child_history(book: CaseBook, case: Case) -> None:
    """Chart and table, where the family joined earlier cases; nothing otherwise."""
    if not case.content.child_code:
        return
    cases = book.cases_of_child(case.content.child_code)
    measured = measured_inseams(cases)
    if len(measured) < 2:
        return
    say = in_language(CASE)
    with fold(say.growth.format(count=len(measured)), "staff.growth"):
        on = max(today(), measured[-1].day)
        try:
            forecast = forecast_for(case, cases, on)
        except PersonError as error:
            st.caption(fault_text(error))
            return
        now = give_or_take(float(forecast.mean_mm[0]), float(forecast.sd_mm[0]))
        later = give_or_take(float(forecast.mean_mm[12]), float(forecast.sd_mm[12]))
        st.markdown(say.growth_now.format(now=now, later=later))
        past = [
            PastPoint((on - each.day).days * 12 / DAYS_PER_YEAR, each.inseam) for each in measured
        ]
        svg = growth_drawing(forecast, (), past=past, unit=unit(), texts=DRAWING_TEXTS[language()])
        days = ", ".join(day_text(each.day) for each in measured)
        drawing(svg, alt=say.growth_alt.format(days=days, now=now, later=later))
        table(
            say.growth_table,
            [
                (day_text(each.day), give_or_take(each.inseam.mean_mm, each.inseam.sd_mm))
                for each in measured
            ],
        )
