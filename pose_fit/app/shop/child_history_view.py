"""Earlier cases of the same child, and its own growth line."""

import datetime as dt

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.style import drawing, table
from pose_fit.app.views.estimate_view import half_width_text
from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.child_history import growth_line, measured_inseams
from pose_fit.drawing.growth_drawing import growth_drawing
from pose_fit.errors import PersonError
from pose_fit.metrology.units import both_units

__all__ = ["show_child_history"]


def show_child_history(book: CaseBook, case: Case) -> None:
    """Chart and table, where the family joined earlier cases; nothing otherwise."""
    if not case.content.child_code:
        return
    cases = book.cases_of_child(case.content.child_code)
    measured = measured_inseams(cases)
    if len(measured) < 2:
        return
    with fold(f"This child’s growth, {len(measured)} measurements", "staff.growth"):
        table(
            ("Day", "Inseam"),
            [
                (
                    f"{each.day:%Y-%m-%d}",
                    f"{both_units(each.inseam.mean_mm)} ± {half_width_text(each.inseam)}",
                )
                for each in measured
            ],
        )
        try:
            forecast = growth_line(cases, on=max(dt.date.today(), measured[-1].day))
        except PersonError as error:
            st.caption(plain(str(error)))
            return
        now_mm, sd_mm = float(forecast.mean_mm[0]), float(forecast.sd_mm[0])
        later_mm = float(forecast.mean_mm[12])
        st.markdown(
            f"Today, by all of them together: **{both_units(now_mm)}** ± {1.96 * sd_mm:.0f} mm."
            f" In a year: {both_units(later_mm)} ± {1.96 * float(forecast.sd_mm[12]):.0f} mm."
        )
        drawing(
            growth_drawing(forecast, ()),
            alt=f"Growth chart: {both_units(now_mm)} today, {both_units(later_mm)} in a year.",
        )
