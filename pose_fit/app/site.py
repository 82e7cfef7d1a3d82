"""The app: one look, one session, its pages."""

import streamlit as st

from pose_fit.app.family.case_status import GO_MEASURE, case_status_page
from pose_fit.app.family.gift_page import gift_page
from pose_fit.app.family.parent_page import parent_page
from pose_fit.app.family.shared_page import PATH as SHARED_PATH
from pose_fit.app.family.shared_page import shared_page
from pose_fit.app.session import keep_fields
from pose_fit.app.shop.staff_page import staff_page
from pose_fit.app.style import use_style
from pose_fit.app.texts.language import (
    LANGUAGE_NAMES,
    choose_language,
    choose_unit,
    in_language,
    language,
    unit,
)
from pose_fit.app.texts.site_texts import SITE
from pose_fit.app.views.messages import fault_text
from pose_fit.app.visits import forget_visit, is_visit_lost, keep_visit, resume_visit
from pose_fit.errors import PoseFitError

__all__ = ["run"]


def run() -> None:
    """Show the page the visitor is on."""
    resume_visit()
    keep_fields()
    say = in_language(SITE)
    st.set_page_config(page_title=say.title, layout="centered")
    use_style(language(), no_connection=say.no_connection)
    pages = (
        st.Page(parent_page, title=say.my_child, default=True),
        st.Page(gift_page, title=say.present, url_path="present"),
        st.Page(case_status_page, title=say.my_case, url_path="case"),
        st.Page(staff_page, title=say.shop, url_path="shop"),
    )
    shared = st.Page(shared_page, title=say.title, url_path=SHARED_PATH)
    page = st.navigation([*pages, shared], position="hidden")
    if st.session_state.pop(GO_MEASURE, False):
        st.switch_page(pages[0])
    if is_visit_lost() and page.url_path in ("", "present"):
        st.info(say.lost, icon=":material/history:")
    try:
        page.run()
    except PoseFitError as error:
        # What a field did not catch is still said in words, and the entries are kept.
        st.error(fault_text(error), icon=":material/error:")
    finally:
        keep_visit()
    # Below the page: the first screen asks for one decision alone.
    with st.container(key="footer"):
        with st.container(horizontal=True, vertical_alignment="center"):
            for target in pages:
                st.page_link(target)
            _offer_language_and_unit()
        if page.url_path != "shop":
            st.caption(say.privacy)
            st.button(say.forget, on_click=forget_visit)


def _offer_language_and_unit() -> None:
    say = in_language(SITE)
    for one, name in LANGUAGE_NAMES.items():
        if one != language():
            st.button(
                name, key=f"language.{one}", type="tertiary", on_click=choose_language, args=(one,)
            )
    if unit() == "in":
        st.button(say.centimetres, type="tertiary", on_click=choose_unit, args=("cm",))
    else:
        st.button(say.inches, type="tertiary", on_click=choose_unit, args=("in",))
