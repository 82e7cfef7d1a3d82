"""The top of a case: the inseam to decide on or as it was answered, and what speaks for a look."""

from dataclasses import replace

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.local_time import moment_text
from pose_fit.app.shop.case_day import show_on_day
from pose_fit.app.shop.case_words import doer, give_or_take
from pose_fit.app.shop.pairs_page import correction_switch
from pose_fit.app.shop.shop_book import branch, shop_bicycles
from pose_fit.app.style import card_title
from pose_fit.app.texts.case_action_texts import ACTIONS
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.texts.staff_texts import LISTS
from pose_fit.app.views.bicycle_words import word
from pose_fit.app.views.estimate_view import show_value
from pose_fit.app.views.messages import plain, show_notes, show_refusal
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.decision import PhotoAsked
from pose_fit.casebook.estimate import corrected_estimate
from pose_fit.casebook.present import order_of
from pose_fit.fit.cautions import told_cautions
from pose_fit.fit.choice import NoneFits, choose
from pose_fit.fit.judge import judge
from pose_fit.inseam.inseam import Inseam
from pose_fit.pairs.pair_texts import PAIR_TEXTS
from pose_fit.refusal import Refusal, told_once

__all__ = ["show_answer"]


def show_answer(book: CaseBook, case: Case, *, by: str) -> Inseam | None:
    """The inseam and what bears on it; it comes back, None where there is none."""
    say, content = in_language(CASE), case.content
    answer = content.answer
    if answer is not None:
        card_title(say.answered)
        _show_inseam(case, answer)
        _show_decision(case)
        if isinstance(content.estimate, Inseam) and answer != content.estimate:
            sent_in = give_or_take(content.estimate.mean_mm, content.estimate.sd_mm)
            st.caption(say.sent_in.format(estimate=sent_in))
        return answer
    if isinstance(content.estimate, Refusal):
        card_title(say.decide_no_number)
        show_refusal(content.estimate)
        _show_decision(case)
        return None
    asked = content.decision is not None
    card_title(in_language(LISTS).states["photo_asked"] if asked else say.decide)
    shown = _show_estimate(book, case, content.estimate, by=by)
    _show_decision(case)
    return shown


def _show_estimate(book: CaseBook, case: Case, sent_in: Inseam, *, by: str) -> Inseam:
    """The estimate that would be accepted, and which correction is in it."""
    say = in_language(CASE)
    correction = book.correction_for(case, shop=branch())
    corrected = corrected_estimate(case, correction)
    if isinstance(corrected, Inseam) and corrected is not sent_in:
        others = tuple(notice for notice in corrected.warnings if notice.code != "corrected")
        _show_inseam(case, replace(corrected, warnings=others))
        was = say.sent_in.format(estimate=give_or_take(sent_in.mean_mm, sent_in.sd_mm))
        words = correction.words(PAIR_TEXTS[language()])
        st.caption(f"{plain(words)} {was}")
        correction_switch(book, by=by, key="case")
        return corrected
    _show_inseam(case, sent_in)
    if not book.settings.corrects:
        correction_switch(book, by=by, key="case")
    return sent_in


def _show_inseam(case: Case, inseam: Inseam) -> None:
    show_value(inseam)
    wanted = show_on_day(case, inseam)
    show_notes(told_once(inseam.warnings))
    _show_choice(case, wanted)


def _show_choice(case: Case, inseam: Inseam) -> None:
    """Which of the shop's bicycles it would be; nothing where there is no list of them."""
    bicycles = shop_bicycles()
    if not bicycles:
        return
    say = in_language(CASE)
    fits = judge(inseam, bicycles)
    choice = choose(fits, order=order_of(case, fits))
    if isinstance(choice, NoneFits):
        st.markdown(say.none_fits)
    else:
        name = plain(choice.best.bicycle.name)
        st.markdown(say.first_choice.format(name=name, word=word(choice.best)))
        show_notes(told_cautions(choice.best))


def _show_decision(case: Case) -> None:
    say, decision = in_language(CASE), case.content.decision
    if decision is None:
        return
    st.caption(say.by.format(name=plain(doer(decision.by)), moment=moment_text(decision.at)))
    if isinstance(decision.verdict, PhotoAsked):
        with fold(in_language(ACTIONS).letter, "staff.letter"):
            st.code(decision.words, language=None, wrap_lines=True)
    elif decision.words:
        st.markdown(say.note.format(note=plain(decision.words)))
