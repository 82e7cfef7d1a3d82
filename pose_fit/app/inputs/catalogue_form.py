"""Which bicycles: the demo shop's, or an uploaded list."""

import hashlib
from dataclasses import dataclass
from typing import Final

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.session import FIELD
from pose_fit.app.shop.shop_book import shop_bicycles
from pose_fit.app.views.messages import plain
from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, parse_catalogue, read_catalogue
from pose_fit.bicycle.columns import COLUMNS
from pose_fit.errors import CatalogueError

__all__ = ["ask_catalogue"]

_DEMO, _OWN = "The demo shop’s bicycles", "A list of my own (CSV)"
#: Where the shop has put its own list in.
_SHOP: Final = "The shop’s bicycles"
#: Where the uploaded list is kept, since the upload field forgets it on another page.
_KEPT: Final = "catalogue.own"


def ask_catalogue(page: str) -> tuple[Bicycle, ...]:
    """The bicycles to judge; empty while an own list is missing or has a fault."""
    own_stock = shop_bicycles()
    choice = st.radio(
        "Bicycles",
        (_DEMO, _OWN),
        format_func=lambda which: _SHOP if which == _DEMO and own_stock else which,
        key=f"{FIELD}{page}.catalogue",
    )
    if choice == _DEMO:
        return own_stock or _demo()
    uploaded = st.file_uploader("List of bicycles", type=["csv", "txt"], key=f"{page}.csv")
    if uploaded is not None:
        _keep(uploaded.name, uploaded.getvalue())
    with fold("What the list needs", f"{page}.columns"):
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
    kept: _Kept = st.session_state[_KEPT]
    if kept.fault:
        st.error("**The list cannot be used yet.**")
        st.code(kept.fault, language=None, wrap_lines=True)
    else:
        st.success(plain(f"{kept.name}: {len(kept.bicycles)} bicycles"), icon=":material/check:")
    return kept.bicycles


@dataclass(frozen=True, slots=True)
class _Kept:
    """An uploaded list, read once; ``fault`` says why it holds no bicycles."""

    name: str
    digest: str
    bicycles: tuple[Bicycle, ...] = ()
    fault: str = ""


def _keep(name: str, data: bytes) -> None:
    digest = hashlib.sha256(data).hexdigest()
    before: _Kept | None = st.session_state.get(_KEPT)
    if before is None or (before.name, before.digest) != (name, digest):
        st.session_state[_KEPT] = _read(name, digest, data)


def _read(name: str, digest: str, data: bytes) -> _Kept:
    try:
        bicycles = parse_catalogue(data.decode("utf-8-sig"), source=name)
    except UnicodeDecodeError:
        fault = f"{name} is no UTF-8 text; save the table as “CSV UTF-8”."
        return _Kept(name, digest, fault=fault)
    except CatalogueError as error:
        return _Kept(name, digest, fault=str(error))
    return _Kept(name, digest, bicycles)


@st.cache_data(show_spinner=False)
def _demo() -> tuple[Bicycle, ...]:
    return read_catalogue(DEMO_CATALOGUE)
