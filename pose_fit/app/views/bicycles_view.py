"""Judged bicycles, best first: verdict, reasons, and the child's clearance among the zones."""

from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.session import FIELD
from pose_fit.app.style import badge, drawing, raw
from pose_fit.app.views.bicycle_drawing_view import show_child_on_bicycle
from pose_fit.app.views.messages import plain
from pose_fit.drawing.zones_drawing import zones_drawing
from pose_fit.fit.chance import chance_text
from pose_fit.fit.choice import RULE, Choice, choose, rank
from pose_fit.fit.judge import Fit
from pose_fit.fit.verdicts import VERDICTS
from pose_fit.fit.words import (
    GENERAL_CAUTIONS,
    cautions,
    choice_text,
    headline,
    reasons,
    settle_text,
)
from pose_fit.fit.zones import strip_of
from pose_fit.metrology.units import both_units

__all__ = ["show_bicycle", "show_bicycles", "show_cautions"]

#: Bicycles shown before the visitor asks for all.
_FIRST: Final = 6
#: A longer list is worked through in the shop, not on a page.
_MOST: Final = 60


def show_bicycles(fits: Sequence[Fit], *, page: str) -> None:
    """The choice in words, then a card for each bicycle."""
    choice = choose(fits)
    show = st.success if isinstance(choice, Choice) else st.warning
    show(plain(choice_text(choice)))
    st.html(
        '<p class="pf-quiet">Dot: clearance expected. Bar: where it is 19 times in 20.'
        " Strip: what each clearance would mean on that bicycle:"
        f" {' '.join(map(badge, VERDICTS))}</p>"
    )
    ranked = rank(fits)
    shown = ranked[:_FIRST]
    if len(ranked) > _FIRST and st.toggle(
        f"Show all {len(ranked)} bicycles", key=f"{FIELD}{page}.all"
    ):
        shown = ranked[:_MOST]
    for place, fit in enumerate(shown):
        with st.container(border=True):
            show_bicycle(fit, page=page)
            drawn = fold(
                "This child on it, to scale", f"{page}.on.{fit.bicycle.name}", opened=place == 0
            )
            # A drawing weighs some 20 kB: sent when it is looked at.
            if drawn.open:
                with drawn:
                    show_child_on_bicycle(fit)
    if len(shown) == _MOST < len(ranked):
        st.caption(f"The first {_MOST} of {len(ranked)} are shown.")
    with fold("How the list is ordered, and what the words mean", f"{page}.words"):
        st.markdown(f"{RULE}\n\n" + "\n".join(f"- {line}" for line in _MEANINGS))


def show_bicycle(fit: Fit, *, page: str) -> None:
    """One bicycle."""
    bicycle = fit.bicycle
    about = [str(bicycle.tyre.marking), f"standover {both_units(bicycle.standover_mm)}"]
    if bicycle.in_stock is False:
        about.append("not in stock")
    st.html(
        f'<p class="pf-bike">{badge(fit.verdict)}<strong>{raw(bicycle.name)}</strong>'
        f"<span>{raw(headline(fit))}</span></p>"
        f'<p class="pf-quiet">{raw(" · ".join(about))}</p>'
    )
    left, right = st.columns([3, 2], gap="medium")
    strip = strip_of(fit)
    with left:
        drawing(zones_drawing(strip), alt=_strip_words(fit))
    with right:
        lines = [f"- {plain(reason.message)}" for reason in reasons(fit)]
        if fit.unsure:
            lines.append(f"- {plain(settle_text(fit))}")
        st.markdown("\n".join(lines))
    minded = cautions(fit)
    if minded:
        with fold("Mind when trying it", f"{page}.mind.{fit.bicycle.name}"):
            st.markdown("\n".join(f"- {plain(caution.message)}" for caution in minded))


def show_cautions() -> None:
    """What every advice carries."""
    st.warning(
        "\n".join(f"- {plain(caution)}" for caution in GENERAL_CAUTIONS),
        icon=":material/health_and_safety:",
    )


def _strip_words(fit: Fit) -> str:
    """The drawing in words."""
    strip = strip_of(fit)
    what = "Clearance" if fit.bicycle.has_top_tube else "Leg to spare over the lowest saddle"
    zones = "; ".join(
        f"{zone.verdict} from {both_units(zone.low_mm)} to {both_units(zone.high_mm)}"
        for zone in strip.zones
    )
    chances = ", ".join(
        f"{verdict} {chance_text(fit.probabilities[verdict])}"
        for verdict in VERDICTS
        if fit.probabilities[verdict] >= 0.005
    )
    return (
        f"{fit.bicycle.name}. {what} {both_units(strip.mean_mm)}, between"
        f" {both_units(strip.low_mm)} and {both_units(strip.high_mm)}. Zones: {zones}."
        f" Chances: {chances}."
    )


_MEANINGS: Final = (
    "✕ **contact**: the bar touches. Not to be ridden.",
    "▼ **tight**: off the bar, but by less than an inch (2.5 cm).",
    "✓ **good**: the wanted clearance, and saddle and handlebar fit.",
    "◆ **roomy**: more clearance than needed; saddle and handlebar still fit.",
    "▲ **cramped**: outgrown; the saddle at its highest is too low, or the knees meet the bar.",
)
