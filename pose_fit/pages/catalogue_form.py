"""Which bicycles: the demo shop's, or an uploaded list."""

from typing import Final

import streamlit as st

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, parse_catalogue, read_catalogue
from pose_fit.bicycle.columns import COLUMNS
from pose_fit.errors import CatalogueError
from pose_fit.pages.session import FIELD

__all__ = ["ask_catalogue"]

_DEMO, _OWN = "The demo shop’s bicycles", "A list of my own (CSV)"
#: Where the uploaded list is kept, since the upload field forgets it on another page.
_KEPT: Final = "catalogue.own"


def ask_catalogue(page: str) -> tuple[Bicycle, ...]:
    """The bicycles to judge; empty while an own list is missing or has a fault."""
    choice = st.radio("Bicycles", (_DEMO, _OWN), key=f"{FIELD}{page}.catalogue")
    if choice == _DEMO:
        return _demo()
    uploaded = st.file_uploader("List of bicycles", type=["csv", "txt"], key=f"{page}.csv")
    if uploaded is not None:
        st.session_state[_KEPT] = uploaded.name, uploaded.getvalue()
    with st.expander("What the list needs"):
        st.markdown(
            "One line a bicycle below a header line. "
            + " ".join(
                f"**{column.headers[0]}**: {column.meaning}"
                for column in COLUMNS
                if column.required
            )
            + " Further columns make the advice better:"
        )
        st.dataframe(
            [
                {"column": " or ".join(column.headers), "what to measure": column.meaning}
                for column in COLUMNS
                if not column.required
            ],
            hide_index=True,
        )
    if _KEPT not in st.session_state:
        return ()
    name, data = st.session_state[_KEPT]
    try:
        bicycles = parse_catalogue(data.decode("utf-8-sig"), source=name)
    except UnicodeDecodeError:
        st.error(f"{name} is no UTF-8 text; save the table as “CSV UTF-8”.")
        return ()
    except CatalogueError as error:
        st.error("**The list cannot be used yet.**")
        st.code(str(error), language=None, wrap_lines=True)
        return ()
    st.success(f"{name}: {len(bicycles)} bicycles", icon=":material/check:")
    return bicycles


@st.cache_data(show_spinner=False)
def _demo() -> tuple[Bicycle, ...]:
    return read_catalogue(DEMO_CATALOGUE)
