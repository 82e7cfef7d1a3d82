"""The other bicycles as a compact table, one bicycle by itself, and what every advice carries."""

from collections.abc import Mapping, Sequence
from typing import Final

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.style import html_table, raw
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.fit_texts import FIT
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.texts.notice_texts import notice_text
from pose_fit.app.views.answer_view import badge_of
from pose_fit.app.views.bicycle_words import how_long, room, short_room
from pose_fit.app.views.messages import plain
from pose_fit.drawing.colours import SHOWN_SIGN
from pose_fit.fit.cautions import told_cautions
from pose_fit.fit.choice import Order, rank
from pose_fit.fit.judge import Fit
from pose_fit.fit.shown import SHOWN
from pose_fit.growth.lasting import Lasting

__all__ = ["show_bicycle", "show_bicycles", "show_cautions", "show_table"]

#: Bicycles shown with their reasons before somebody asks for the table.
_FIRST: Final = 6
#: A longer list is worked through in the shop, not on a page.
_MOST: Final = 60


def show_table(fits: Sequence[Fit], lines: Mapping[str, Lasting], *, order: Order = rank) -> None:
    """One row for each bicycle, best first, and what the words mean."""
    say, fit_say = in_language(FAMILY), in_language(FIT)
    ranked = order(fits)[:_MOST]
    rows = []
    for fit in ranked:
        name = fit.bicycle.name
        named = raw(name)
        if fit.bicycle.in_stock is False:
            named += f'<br><span class="pf-quiet">{raw(fit_say.out_of_stock)}</span>'
        line = lines.get(name)
        last = raw(how_long(fit, line)) if line is not None else "–"
        rows.append((f"{named}<br>{badge_of(fit)}", raw(short_room(fit)), last))
    html_table(say.table, rows)
    if len(ranked) < len(fits):
        st.caption(say.list_note.format(shown=len(ranked), count=len(fits)))
    st.markdown(
        "\n".join(
            f"- {SHOWN_SIGN[shown]} **{fit_say.shown[shown]}**: {fit_say.meanings[shown]}"
            for shown in SHOWN
        )
    )


def show_bicycles(fits: Sequence[Fit], *, page: str, order: Order = rank) -> None:
    """The best ones with what to know of each, and all in a table."""
    for fit in order(fits)[:_FIRST]:
        with st.container(border=True):
            show_bicycle(fit)
    with fold(in_language(FAMILY).others, f"{page}.table"):
        show_table(fits, {}, order=order)


def show_bicycle(fit: Fit) -> None:
    """One bicycle with what to know about it."""
    st.html(
        f'<p class="pf-bike"><strong>{raw(fit.bicycle.name)}</strong> {badge_of(fit)}</p>'
        f'<p class="pf-quiet">{raw(room(fit))}</p>'
    )
    told = told_cautions(fit)
    if told:
        st.markdown("\n".join(f"- {plain(notice_text(caution, language()))}" for caution in told))


def show_cautions(named: Fit | None = None) -> None:
    """What every advice carries, and what to be careful about with the bicycle that is named."""
    told = list(in_language(FIT).cautions)
    if named is not None:
        own = [notice_text(caution, language()) for caution in told_cautions(named)]
        told += [f"{named.bicycle.name}: {' '.join(own)}"] if own else []
    lines = "".join(f"<li>{raw(line)}</li>" for line in told)
    st.html(f'<ul class="pf-cautions">{lines}</ul>')
