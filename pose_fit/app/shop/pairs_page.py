"""Photo against tape: what the shop's own pairs show, and the correction that follows."""

import streamlit as st

from pose_fit.app.shop.shop_book import branch
from pose_fit.app.style import drawing, table
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import day_text, in_language, language
from pose_fit.app.texts.notice_texts import notice_text
from pose_fit.app.texts.pairs_page_texts import PAIRS_PAGE
from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.pairs.agreement import Agreement
from pose_fit.pairs.difference_plot import difference_plot, plot_in_words
from pose_fit.pairs.pair import Pair
from pose_fit.pairs.pair_table import pairs_csv
from pose_fit.pairs.pair_texts import PAIR_TEXTS
from pose_fit.pairs.pair_words import (
    bias_words,
    coverage_words,
    group_words,
    limits_words,
    second_look,
    signed,
    spread_words,
)
from pose_fit.pairs.summary import PairsSummary, summary_of

__all__ = ["correction_switch", "show_pairs"]


def show_pairs(book: CaseBook, *, by: str) -> None:
    """The bias in one sentence, warnings, the correction with its switch, and what it rests on."""
    say, texts = in_language(PAIRS_PAGE), PAIR_TEXTS[language()]
    pairs = book.pairs()
    if not pairs:
        st.info(say.none, icon=":material/straighten:")
        return
    summary = summary_of(pairs, shop=branch())
    st.markdown(f"**{plain(bias_words(summary.whole, texts, in_this_shop=summary.in_this_shop))}**")
    for notice in summary.notices:
        st.warning(plain(notice_text(notice, language())), icon=":material/warning:")
    if book.settings.corrects:
        st.markdown(plain(summary.correction.words(texts)))
    correction_switch(book, by=by, key="pairs")
    _show_second_look(summary)
    st.subheader(say.numbers)
    told = [coverage_words(summary.whole, texts), spread_words(summary.whole, texts)]
    told.append(limits_words(summary.whole, texts))
    st.markdown(plain(" ".join(filter(None, told))))
    drawing(difference_plot(pairs, texts), alt=plot_in_words(pairs, texts))
    if summary.groups:
        st.subheader(say.groups)
        table(say.table, [_row(group) for group in summary.groups])
    st.caption(say.note)
    st.download_button(
        say.download,
        pairs_csv(pairs),
        file_name="pairs.csv",
        mime="text/csv",
        icon=":material/table:",
    )


def correction_switch(book: CaseBook, *, by: str, key: str) -> None:
    """One press turns the correction off, or on again, for everybody."""
    say, on = in_language(CASE), book.settings.corrects
    if not on:
        st.caption(say.correction_off)
    if st.button(
        say.turn_off if on else say.turn_on,
        key=f"staff.correction.{key}",
        icon=":material/tune:",
        type="tertiary",
    ):
        book.settings.turn_correction(on=not on, by=by)
        st.rerun()


def _show_second_look(summary: PairsSummary) -> None:
    if summary.odd:
        st.subheader(in_language(PAIRS_PAGE).second_look)
        st.markdown("\n".join(f"- {plain(_look(pair))}" for pair in summary.odd))


def _look(pair: Pair) -> str:
    number = pair.name.removeprefix("case ")
    name = in_language(PAIRS_PAGE).case.format(number=number)
    return second_look(pair, PAIR_TEXTS[language()], name=name, day=day_text(pair.day))


def _row(found: Agreement) -> tuple[str, ...]:
    say = in_language(PAIRS_PAGE)
    bias, spread = f"{signed(found.bias_mm)} mm", say.one
    if found.bias95_mm is not None and found.sd_mm is not None and found.sd95_mm is not None:
        low, high = (signed(end) for end in found.bias95_mm)
        bias = say.group_bias.format(bias=signed(found.bias_mm), low=low, high=high)
        low, high = (f"{end:.0f}" for end in found.sd95_mm)
        spread = say.spread.format(sd=f"{found.sd_mm:.0f}", low=low, high=high)
        if round(found.sd_mm) == 0:
            spread = "< 1 mm"
    low, high = (f"{100 * share:.0f}" for share in found.coverage95)
    covered = say.covered.format(covered=found.covered, count=found.count, low=low, high=high)
    group = group_words(found, PAIR_TEXTS[language()])
    return group, str(found.count), bias, spread, covered
