"""Photo against tape: what the shop's own pairs show, and the correction that follows."""

import streamlit as st

from pose_fit.app.shop.shop_book import branch
from pose_fit.app.style import drawing, table
from pose_fit.app.views.messages import plain, show_notices
from pose_fit.casebook.book import CaseBook
from pose_fit.pairs.agreement import Agreement
from pose_fit.pairs.difference_plot import difference_plot, plot_in_words
from pose_fit.pairs.pair_table import pairs_csv
from pose_fit.pairs.summary import PairsSummary, bias_words, second_look, spread_words, summary_of

__all__ = ["correction_switch", "show_pairs"]


def show_pairs(book: CaseBook, *, by: str) -> None:
    """Bias, spread, coverage, plot, groups, pairs for a second look, and the switch."""
    pairs = book.pairs()
    if not pairs:
        st.info(
            "No child was measured by photo and by tape yet. Open a case while its child stands in"
            " the shop and choose **Tape in the shop**.",
            icon=":material/straighten:",
        )
        return
    summary = summary_of(pairs, shop=branch())
    st.markdown(f"**{plain(bias_words(summary.whole))}**")
    st.markdown(plain(spread_words(summary.whole)))
    show_notices(summary.notices)
    if book.settings.corrects:
        st.markdown(plain(summary.correction.words))
    correction_switch(book, by=by, key="pairs")
    drawing(difference_plot(pairs), alt=plot_in_words(pairs))
    _show_second_look(summary)
    if summary.groups:
        st.subheader("By group")
        table(
            ("Group", "Children", "Photo minus tape", "Spread", "Within the interval"),
            [_row(group) for group in summary.groups],
        )
    st.caption(
        "In brackets: the range in which the true figure lies 19 times in 20. Within the interval:"
        " of 100 children 95 should be."
    )
    st.download_button(
        "Download the pairs (CSV)",
        pairs_csv(pairs),
        file_name="pairs.csv",
        mime="text/csv",
        icon=":material/table:",
    )


def correction_switch(book: CaseBook, *, by: str, key: str) -> None:
    """One press turns the correction off, or on again, for everybody."""
    on = book.settings.corrects
    words = "Turn the correction off" if on else "Turn the correction on"
    if not on:
        st.caption("The correction is off: estimates are shown as the photos gave them.")
    if st.button(words, key=f"staff.correction.{key}", icon=":material/tune:"):
        book.settings.turn_correction(on=not on, by=by)
        st.rerun()


def _show_second_look(summary: PairsSummary) -> None:
    if summary.odd:
        st.subheader("Look at these again")
        st.markdown("\n".join(f"- {plain(second_look(pair))}" for pair in summary.odd))


def _row(found: Agreement) -> tuple[str, ...]:
    bias, spread = f"{found.bias_mm:+.0f} mm", "not known of one"
    if found.bias95_mm is not None and found.sd_mm is not None and found.sd95_mm is not None:
        bias += f" ({found.bias95_mm[0]:+.0f} to {found.bias95_mm[1]:+.0f})"
        spread = f"{found.sd_mm:.0f} mm ({found.sd95_mm[0]:.0f} to {found.sd95_mm[1]:.0f})"
    low, high = (100 * share for share in found.coverage95)
    covered = f"{found.covered} of {found.count} ({low:.0f} to {high:.0f} %)"
    return found.group, str(found.count), bias, spread, covered
