"""What only who was there knows of the pictures: soles, cloth on the legs, heels on the floor."""

from collections.abc import Iterable
from typing import Final

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.checks.stance import HEELS_UNSEEN
from pose_fit.refusal import Refusal
from pose_fit.task.legwear import Legwear
from pose_fit.task.stated import Stated

__all__ = ["ask_worn", "fill_in_worn", "offer_heels"]

#: Soles worn in the picture, millimetres, by what is said of the feet; None where nothing is.
_FEET: Final[dict[str, float | None]] = {
    "not said": None,
    "barefoot or in thin socks": 0.0,
    "in shoes": None,
}
_LEGS: Final[dict[str, Legwear | None]] = {
    "not said": None,
    "leggings, tights or bare legs": "snug",
    "shorts or trousers of ordinary cut": "fitted",
    "loose trousers that hang low": "loose",
    "a skirt, dress or long top over them": "hidden",
}


def ask_worn(page: str) -> Stated:
    """What the child wears in the pictures, and whether its heels were on the floor."""
    left, right = st.columns(2)
    feet = left.selectbox("Feet in the picture", tuple(_FEET), key=f"{FIELD}{page}.feet")
    legs = right.selectbox("Legs in the picture", tuple(_LEGS), key=f"{FIELD}{page}.legs")
    soles_mm = _FEET[feet]
    if feet == "in shoes":
        soles_mm = left.number_input(
            "Their soles (mm)",
            min_value=0.0,
            max_value=60.0,
            value=None,
            step=1.0,
            key=f"{FIELD}{page}.worn",
            placeholder="not measured",
        )
    heels_down = right.checkbox(
        "Both heels were on the floor",
        key=_heels_key(page),
        help="From the front a program hardly sees it. Tick it if you do, were there, or asked.",
    )
    return Stated(soles_mm=soles_mm, legwear=_LEGS[legs], heels_down=heels_down)


def fill_in_worn(page: str, *, soles_mm: float, heels_down: bool) -> None:
    """Fill the fields with what is told of a sample."""
    state = st.session_state
    state[f"{FIELD}{page}.feet"] = "in shoes" if soles_mm > 0 else "barefoot or in thin socks"
    state[f"{FIELD}{page}.worn"] = soles_mm or None
    state[f"{FIELD}{page}.legs"] = "not said"
    state[_heels_key(page)] = heels_down


def offer_heels(page: str, refusals: Iterable[Refusal]) -> None:
    """One press answers the question whether the heels were on the floor, where it was asked."""
    codes = {reason.code for refusal in refusals for reason in refusal.reasons}
    if HEELS_UNSEEN in codes:
        st.button("Yes, both heels were on the floor", on_click=_say_heels_down, args=(page,))


def _say_heels_down(page: str) -> None:
    st.session_state[_heels_key(page)] = True


def _heels_key(page: str) -> str:
    return f"{FIELD}{page}.heels"
