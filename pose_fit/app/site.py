"""The app: one look, one session, its pages."""

import streamlit as st

from pose_fit.app.family.case_status import GO_MEASURE, case_status_page
from pose_fit.app.family.gift_page import gift_page
from pose_fit.app.family.parent_page import parent_page
from pose_fit.app.session import keep_fields
from pose_fit.app.shop.staff_page import staff_page
from pose_fit.app.style import use_style
from pose_fit.app.views.messages import plain
from pose_fit.app.visits import forget_visit, keep_visit, resume_visit
from pose_fit.errors import PoseFitError

__all__ = ["run"]


def run() -> None:
    """Show the page the visitor is on."""
    st.set_page_config(page_title="Which bicycle fits?", page_icon="🚲", layout="wide")
    resume_visit()
    keep_fields()
    use_style()
    pages = (
        st.Page(parent_page, title="My child", icon=":material/pedal_bike:", default=True),
        st.Page(gift_page, title="A present", icon=":material/redeem:", url_path="present"),
        st.Page(
            case_status_page, title="My case", icon=":material/mark_email_read:", url_path="case"
        ),
        st.Page(staff_page, title="For the shop", icon=":material/storefront:", url_path="shop"),
    )
    page = st.navigation(pages, position="hidden")
    # In the page itself: on a phone the usual menu hides behind a sign few people know.
    with st.container(horizontal=True, key="pages"):
        for target in pages:
            st.page_link(target)
    if st.session_state.pop(GO_MEASURE, False):
        st.switch_page(pages[0])
    try:
        page.run()
    except PoseFitError as error:
        # What a field did not catch is still said in words, and the entries are kept.
        st.error(plain(str(error)), icon=":material/error:")
    finally:
        keep_visit()
    if page.url_path != "shop":
        _offer_forgetting()


def _offer_forgetting() -> None:
    st.caption(
        "Pictures and entries stay in this machine’s memory for half an hour and go nowhere else,"
        " unless you send them to the shop."
    )
    st.button(
        "Forget my pictures and entries now",
        icon=":material/delete_sweep:",
        on_click=forget_visit,
    )
