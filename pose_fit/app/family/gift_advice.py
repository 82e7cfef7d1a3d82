"""The most robust present in words, and what to agree with the shop."""

from collections.abc import Sequence

import streamlit as st

from pose_fit.app.views.bicycle_drawing_view import show_child_on_bicycle
from pose_fit.app.views.bicycles_view import show_bicycle
from pose_fit.app.views.messages import plain
from pose_fit.fit.chance import chance_text
from pose_fit.fit.judge import Fit
from pose_fit.fit.robust import Robust, most_robust

__all__ = ["show_robust"]


def show_robust(fits: Sequence[Fit], *, page: str) -> None:
    """The bicycle, the chances, and the exchange."""
    robust = most_robust(fits)
    if robust is None:
        st.warning(
            "**No bicycle is safe enough to buy on these clues.** Give another clue, or a voucher,"
            " and choose together with the child: standing over the bicycles in the shop decides.",
            icon=":material/redeem:",
        )
        return
    name = robust.fit.bicycle.name
    st.success(
        plain(
            f"{name}: fits on the day with a chance of {chance_text(robust.fit.fitting)}."
            f" Too big: {chance_text(robust.too_big)}; too small: {chance_text(robust.too_small)}."
        ),
        icon=":material/redeem:",
    )
    with st.container(border=True):
        show_bicycle(robust.fit, page=f"{page}.robust")
        show_child_on_bicycle(robust.fit)
    with st.container(border=True):
        st.markdown(
            "**Agree with the shop before you pay**\n"
            + "\n".join(f"- {plain(line)}" for line in _exchange(robust))
        )


def _exchange(robust: Robust) -> list[str]:
    lines = [
        "Exchange for another size within two or three weeks after the day of the present, not"
        " after the day you buy, as long as the bicycle was only tried indoors.",
    ]
    if robust.smaller is not None:
        lines.append(
            f"If it turns out too big ({chance_text(robust.too_big)}): {robust.smaller.bicycle.name}."
        )
    if robust.larger is not None:
        lines.append(
            f"If it turns out too small ({chance_text(robust.too_small)}): {robust.larger.bicycle.name}."
        )
    lines += [
        "Ask them to hold that size until then.",
        "Saddle and handlebar set, and brakes checked, in the shop with the child there.",
        "Keep the receipt; try it over a carpet first, with an adult holding it.",
    ]
    return lines
