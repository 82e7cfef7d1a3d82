"""One inseam as people read it: value, interval, budget, what would make it better."""

from collections.abc import Sequence

import streamlit as st

from pose_fit.app.style import drawing, raw, table
from pose_fit.app.views.messages import show_notices
from pose_fit.drawing.interval_drawing import Row, interval_drawing
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.metrology.units import both_units, inches_text

__all__ = ["half_width_text", "show_budget", "show_intervals", "show_value"]


def show_value(inseam: Inseam) -> None:
    """Inches large, centimetres beside, and the interval in words."""
    low_mm, high_mm = inseam.interval95_mm
    st.html(
        f'<p class="pf-value">{inches_text(inseam.mean_mm)}'
        f" <small>{inseam.mean_mm / 10:.1f} cm</small></p>"
        f'<p class="pf-interval">19 times in 20 between {raw(both_units(low_mm))}'
        f" and {raw(both_units(high_mm))}</p>"
    )


def half_width_text(inseam: Inseam) -> str:
    """Half of the interval in which it is 19 times in 20."""
    return f"{COVERAGE_FACTOR_95 * inseam.sd_mm:.0f} mm"


def show_intervals(readings: Sequence[tuple[str, Inseam]]) -> None:
    """Several inseams above each other on one scale."""
    rows = [Row.of(name, inseam) for name, inseam in readings]
    alt = "; ".join(
        f"{name}: {both_units(inseam.mean_mm)}, between {inches_text(inseam.interval95_mm[0])}"
        f" and {inches_text(inseam.interval95_mm[1])}"
        for name, inseam in readings
    )
    drawing(interval_drawing(rows), alt=f"Inseams on one scale. {alt}.")


def show_budget(inseam: Inseam) -> None:
    """What the uncertainty is made of, largest first, notes and advice."""
    lines = sorted(inseam.length.budget, key=lambda line: -line.sd_mm)
    total = sum(line.sd_mm**2 for line in lines)
    table(
        ("What is unsure", "±", "Part of it"),
        ((line.source, f"{line.sd_mm:.1f} mm", f"{line.sd_mm**2 / total:.0%}") for line in lines),
    )
    st.caption("± is one standard uncertainty; parts are of the variance and add up to 100 %.")
    show_notices(inseam.warnings)
    if inseam.retake:
        st.markdown("**For a surer value**\n" + "\n".join(f"- {line}" for line in inseam.retake))
