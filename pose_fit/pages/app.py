"""The app: one look, one session, its pages."""

import streamlit as st

from pose_fit.pages.gift import gift_page
from pose_fit.pages.parent import parent_page
from pose_fit.pages.session import keep_fields
from pose_fit.pages.style import use_style

__all__ = ["run"]


def run() -> None:
    """Show the page the visitor is on."""
    st.set_page_config(page_title="Which bicycle fits?", page_icon="🚲", layout="wide")
    keep_fields()
    use_style()
    page = st.navigation(
        [
            st.Page(parent_page, title="My child", icon=":material/pedal_bike:", default=True),
            st.Page(gift_page, title="A present", icon=":material/redeem:", url_path="present"),
        ],
        position="top",
    )
    page.run()
