"""Sharing an answer by a link, and the page that the link opens."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Final
from urllib.parse import urljoin

import streamlit as st

from pose_fit.app.shares import Share, SharedAnswer, share, shared_answer, take_back
from pose_fit.app.texts.language import day_text, in_language
from pose_fit.app.texts.share_texts import SHARING
from pose_fit.app.views.answer_view import show_answer, show_next_to_it, show_no_bicycle
from pose_fit.app.views.bicycles_view import show_cautions
from pose_fit.app.views.messages import fault_text
from pose_fit.errors import CaseBookError
from pose_fit.fit.choice import Choice

__all__ = ["PATH", "offer_share", "shared_page"]

#: The page's place in the address, and the secret's name there.
PATH: Final = "answer"
_PARAMETER: Final = "share"
#: The visitor's own link; kept with the visit.
_MADE: Final = "sent.share"


def offer_share(answer: SharedAnswer) -> None:
    """A button that makes a link; then the link, its end, and a button that ends it."""
    say = in_language(SHARING)
    state: Any = st.session_state
    made: Share | None = state.get(_MADE)
    told = None if made is None else shared_answer(made.secret)
    if told is None or told.mark != answer.mark:
        st.caption(say.what if told is None else say.changed)
        st.button(say.make, key="share.make", on_click=_make, args=(answer,))
    if made is None or told is None:
        return
    st.caption(say.link)
    address = urljoin(st.context.url or "", f"{PATH}?{_PARAMETER}={made.secret}")
    st.code(address, language=None, wrap_lines=True)
    st.caption(say.until.format(day=day_text(made.ends_at.date())))
    st.button(say.take_back, key="share.end", on_click=_end)


def shared_page() -> None:
    """What was shared, for whoever has the link."""
    say = in_language(SHARING)
    answer = shared_answer(st.query_params.get(_PARAMETER, ""))
    if answer is None:
        show_no_bicycle(say.ended_title, say.ended)
        return
    st.caption(say.page_title)
    show_answer(answer.choice, answer.inseam)
    show_next_to_it(answer.choice, answer.lasting)
    show_cautions(answer.choice.best if isinstance(answer.choice, Choice) else None)


def _make(answer: SharedAnswer) -> None:
    _end()
    with _faults_told():
        st.session_state[_MADE] = share(answer)


def _end() -> None:
    made: Share | None = st.session_state.pop(_MADE, None)
    if made is not None:
        with _faults_told():
            take_back(made)


@contextmanager
def _faults_told() -> Iterator[None]:
    """What a press could not do, above the page."""
    try:
        yield
    except CaseBookError as fault:
        st.error(fault_text(fault), icon=":material/cloud_off:")
