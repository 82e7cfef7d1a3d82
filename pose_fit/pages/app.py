"""The app: one look, one session, its pages."""

import streamlit as st

from pose_fit.pages.gift import gift_page
from pose_fit.pages.parent import parent_page
from pose_fit.pages.session import keep_fields
from pose_fit.pages.staff import staff_page
from pose_fit.pages.style import use_style

__all__ = ["run"]


def run() -> None:
    """Show the page the visitor is on."""
    st.set_page_config(page_title="Which bicycle fits?", page_icon="🚲", layout="wide")
    keep_fields()
    use_style()
    pages = (
        st.Page(parent_page, title="My child", icon=":material/pedal_bike:", default=True),
        st.Page(gift_page, title="A present", icon=":material/redeem:", url_path="present"),
        st.Page(staff_page, title="For the shop", icon=":material/storefront:", url_path="shop"),
    )
    page = st.navigation(pages, position="hidden")
    # In the page itself: on a phone the usual menu hides behind a sign few people know.
    with st.container(horizontal=True, key="pages"):
        for target in pages:
            st.page_link(target)
    page.run()
