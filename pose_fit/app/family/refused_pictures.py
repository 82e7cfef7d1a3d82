"""Pictures that gave no number: why, and the question that would change it."""

from collections.abc import Sequence
from dataclasses import replace

import streamlit as st

from pose_fit.app.inputs.child_form import ask_child
from pose_fit.app.inputs.correcting import moves_of, offer_correcting
from pose_fit.app.inputs.photo_choice import remove_picture, turn_picture
from pose_fit.app.inputs.reference_form import (
    ask_object,
    ask_points,
    ask_tyre,
    asks_tyre_alone,
    has_no_object,
    object_of,
    suggest_object,
)
from pose_fit.app.inputs.which_child import asks_which_child, child_pointed_at, point_at_child
from pose_fit.app.inputs.worn import ask_heels
from pose_fit.app.measuring import Outcome, asks_for_object
from pose_fit.app.session import Shot, said_of
from pose_fit.app.style import raw
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.texts.notice_texts import notice_text
from pose_fit.app.views.messages import fault_text, plain, show_refusal
from pose_fit.app.views.photo_view import show_found
from pose_fit.checks.stance import HEELS_UNSEEN
from pose_fit.errors import InputError
from pose_fit.measure import PhotoMeasurement
from pose_fit.refusal import Refusal

__all__ = ["show_refused"]


def show_refused(page: str, outcomes: Sequence[Outcome], *, first: bool = False) -> None:
    """One question for each picture that one would help; the object and the heels are asked once.

    ``first`` where nothing stands above it on the page.
    """
    say = in_language(FAMILY)
    asks = any(_asks(outcome, page) for outcome in outcomes)
    title = raw(say.question_title if asks else say.no_picture_title)
    if first:
        st.html(f"<h1>{title}</h1>")
    about_object = [o for o in outcomes if _is_about_object(o, page)]
    if about_object:
        _ask_for_object(page, about_object)
    about_heels = [o for o in outcomes if _is_about_heels(o)]
    if about_heels:
        _ask_for_heels(page, about_heels)
    for outcome in outcomes:
        if outcome not in about_object and outcome not in about_heels:
            with st.container(border=True):
                _show_one(page, outcome)


def _asks(outcome: Outcome, page: str) -> bool:
    result = outcome.result
    if not isinstance(result, Refusal):
        return False
    return _is_about_heels(outcome) or _is_about_object(outcome, page) or asks_which_child(result)


def _is_about_object(outcome: Outcome, page: str) -> bool:
    result = outcome.result
    is_marked = isinstance(result, Refusal) and result.reasons[0].code == "points_missing"
    return is_marked or asks_for_object(result)


def _is_about_heels(outcome: Outcome) -> bool:
    result = outcome.result
    return isinstance(result, Refusal) and any(
        reason.code == HEELS_UNSEEN for reason in result.reasons
    )


def _ask_for_heels(page: str, outcomes: Sequence[Outcome]) -> None:
    with st.container(border=True, key="heels"):
        show_found(outcomes)
        ask_heels([outcome.shot for outcome in outcomes])
        if len(outcomes) > 1:
            for outcome in outcomes:
                _offer_removing(page, outcome)


def _ask_for_object(page: str, outcomes: Sequence[Outcome]) -> None:
    with st.container(border=True, key="object"):
        result = outcomes[0].result
        if isinstance(result, Refusal) and result.reasons[0].code != "points_missing":
            st.markdown(plain(notice_text(result.reasons[0], language())))
            if result.reasons[0].code == "tyre_code_wanted":
                suggest_object(page, "wheel")
        if asks_tyre_alone(page):
            ask_tyre(page)
        else:
            ask_object(page)
        if has_no_object(page):
            ask_child(page)
        shots = [outcome.shot for outcome in outcomes]
        known = said_of(shots[0]).known_object or object_of(page)
        ask_points(shots, known)
        if known is None or not known.by_hand:
            # To be marked it stands there already.
            show_found(outcomes[:1])
        _offer_removing(page, outcomes[0])


def _show_one(page: str, outcome: Outcome) -> None:
    result, shot, say = outcome.result, outcome.shot, in_language(FAMILY)
    if isinstance(result, PhotoMeasurement):
        return
    if isinstance(result, InputError):
        st.warning(fault_text(result), icon=":material/edit:")
        show_found([outcome])
    elif asks_which_child(result):
        st.markdown(f"**{say.which_child}**")
        point_at_child(shot, say.point_child)
        st.caption(say.or_alone)
    else:
        is_turned = any(reason.code == "picture_rotated" for reason in result.reasons)
        # The buttons turn it: nobody has to do so elsewhere and send it again.
        show_refusal(replace(result.plain, remedies=(say.turn,)) if is_turned else result)
        show_found([outcome])
        if is_turned:
            _offer_turning(page, shot)
        if moves_of(shot) or child_pointed_at(shot):
            # A click that led here can be taken back here.
            offer_correcting(shot, result)
    _offer_removing(page, outcome)


def _offer_turning(page: str, shot: Shot) -> None:
    say = in_language(FAMILY)
    with st.container(horizontal=True):
        for quarters, words in ((1, say.turn_left), (-1, say.turn_right)):
            st.button(
                words,
                key=f"turn.{quarters}.{shot.key}",
                on_click=turn_picture,
                args=(page, shot, quarters),
            )


def _offer_removing(page: str, outcome: Outcome) -> None:
    st.button(
        in_language(FAMILY).remove.format(name=plain(outcome.shot.name)),
        key=f"remove.{outcome.shot.key}",
        on_click=remove_picture,
        args=(page, outcome.shot),
    )
