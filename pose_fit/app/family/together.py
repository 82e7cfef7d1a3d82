"""Photo and tape as equals: do they agree, and which is used for the advice?"""

from collections.abc import Mapping
from typing import Final

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.app.views.estimate_view import show_intervals
from pose_fit.inseam.combine import Combination, combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import both_units

__all__ = ["choose_inseam", "combined_photos"]

#: Readings this unlike each other happen once in twenty with correct uncertainties.
_AGREE_P: Final = 0.05


def combined_photos(inseams: list[Inseam]) -> Inseam | None:
    """One inseam from all measured pictures of the child; None where none was measured."""
    if len(inseams) < 2:
        return inseams[0] if inseams else None
    return combine_inseams(inseams).inseam


def choose_inseam(page: str, readings: Mapping[str, Inseam]) -> Inseam | None:
    """Show the readings on one scale, say whether they agree, and let the visitor choose."""
    if len(readings) < 2:
        for name, reading in readings.items():
            st.markdown(f"{name} only: **{both_units(reading.mean_mm)}**.")
            st.caption("One way of measuring so far. Two ways guard best against a slip.")
            return reading
        return None
    together = "Both together" if len(readings) == 2 else "All together"
    combination = combine_inseams(list(readings.values()))
    show_intervals([*readings.items(), ("Together", combination.inseam)])
    _say_agreement(readings, combination)
    choices = {together: combination.inseam, **{f"{name} only": r for name, r in readings.items()}}
    used = st.radio(
        "Used for the bicycles below",
        tuple(choices),
        key=f"{FIELD}{page}.used",
        horizontal=True,
        help="Together, the surer reading counts more.",
    )
    chosen = choices[used]
    shares = ", ".join(
        f"{name.lower()} {weight:.0%}"
        for name, weight in zip(readings, combination.weights, strict=True)
    )
    if used == together:
        st.caption(f"Used: {both_units(chosen.mean_mm)}. Weights: {shares}.")
    else:
        st.caption(f"Used: {both_units(chosen.mean_mm)}.")
    return chosen


def _say_agreement(readings: Mapping[str, Inseam], combination: Combination) -> None:
    means_mm = [reading.mean_mm for reading in readings.values()]
    apart = both_units(max(means_mm) - min(means_mm))
    if combination.p_value >= _AGREE_P:
        st.success(
            f"They agree: {apart} apart, no more than their uncertainties explain.",
            icon=":material/check_circle:",
        )
    else:
        st.warning(
            f"They do not agree: {apart} apart, more than their uncertainties explain. One of them"
            " is likely wrong. Take both again before you rely on either; until then the interval"
            " together is widened.",
            icon=":material/sync_problem:",
        )
