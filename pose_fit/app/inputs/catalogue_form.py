"""Which bicycles: the demo shop's, or an uploaded list."""

import hashlib
from dataclasses import dataclass
from typing import Final

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.inputs.file_field import LISTS, file_field
from pose_fit.app.session import Fields
from pose_fit.app.shop.shop_book import shop_bicycles
from pose_fit.app.texts.clue_texts import CATALOGUE, CatalogueTexts
from pose_fit.app.texts.column_texts import COLUMN_MEANINGS
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.notice_texts import MESSAGES
from pose_fit.app.views.messages import list_faults, plain
from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, parse_catalogue, read_catalogue
from pose_fit.bicycle.columns import COLUMNS
from pose_fit.errors import CatalogueError

__all__ = ["ask_catalogue", "catalogue_of"]

_DEMO: Final = "demo"
_OWN: Final = "own"
#: Where the uploaded list is kept, since the upload field forgets it on another page.
_KEPT: Final = "catalogue.own"


@dataclass(frozen=True, slots=True)
class _Kept:
    """An uploaded list, read once; ``fault`` says why it holds no bicycles."""

    name: str
    digest: str
    bicycles: tuple[Bicycle, ...] = ()
    fault: str = ""


def catalogue_of(page: str) -> tuple[Bicycle, ...]:
    """The bicycles to judge; empty while an own list is missing or has a fault."""
    if Fields(f"{page}.catalogue").value("which", _DEMO) == _DEMO:
        return shop_bicycles() or _demo()
    kept: _Kept | None = st.session_state.get(_KEPT)
    return () if kept is None else kept.bicycles


def ask_catalogue(page: str) -> tuple[Bicycle, ...]:
    """Ask for the list; the bicycles to judge."""
    say, fields = in_language(CATALOGUE), Fields(f"{page}.catalogue")
    words = {_DEMO: say.shop if shop_bicycles() else say.demo, _OWN: say.own}
    key = fields.key("which")
    choice = st.radio(say.which, tuple(words), format_func=words.__getitem__, key=key)
    if choice == _OWN:
        _ask_own(page, say)
    return catalogue_of(page)


def _ask_own(page: str, say: CatalogueTexts) -> None:
    uploaded = file_field(
        f"{page.replace('.', '_')}_list",
        say.upload,
        types=LISTS,
        key=f"{page}.csv",
        refused=in_language(MESSAGES).refused_list,
    )
    if uploaded is not None:
        _keep(uploaded.name, uploaded.getvalue(), say)
    meanings = in_language(COLUMN_MEANINGS)
    with fold(say.needs, f"{page}.columns"):
        st.markdown(
            f"{say.needs_words} "
            + " ".join(
                f"**{column.headers[0]}**: {meanings[column.name]}"
                for column in COLUMNS
                if column.required
            )
        )
        name, meaning = say.columns
        st.dataframe(
            [
                {name: say.either.join(column.headers), meaning: meanings[column.name]}
                for column in COLUMNS
                if not column.required
            ],
            hide_index=True,
        )
    kept: _Kept | None = st.session_state.get(_KEPT)
    if kept is None:
        return
    if kept.fault:
        st.error(f"**{say.fault}**")
        st.code(list_faults(kept.fault), language=None, wrap_lines=True)
    else:
        count = len(kept.bicycles)
        st.success(plain(say.read.format(name=kept.name, count=count)), icon=":material/check:")


def _keep(name: str, data: bytes, say: CatalogueTexts) -> None:
    digest = hashlib.sha256(data).hexdigest()
    before: _Kept | None = st.session_state.get(_KEPT)
    if before is None or (before.name, before.digest) != (name, digest):
        st.session_state[_KEPT] = _read(name, digest, data, say)
        # The answer above was given with the list before.
        st.rerun()


def _read(name: str, digest: str, data: bytes, say: CatalogueTexts) -> _Kept:
    try:
        bicycles = parse_catalogue(data.decode("utf-8-sig"), source=name)
    except UnicodeDecodeError:
        return _Kept(name, digest, fault=say.not_utf8.format(name=name))
    except CatalogueError as error:
        return _Kept(name, digest, fault=str(error))
    return _Kept(name, digest, bicycles)


@st.cache_data(show_spinner=False)
def _demo() -> tuple[Bicycle, ...]:
    return read_catalogue(DEMO_CATALOGUE)
