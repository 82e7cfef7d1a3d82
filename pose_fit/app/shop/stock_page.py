"""The shop's bicycles: upload the list, correct one value, put in what was measured."""

import streamlit as st

from pose_fit.app.inputs.lengths import length_field
from pose_fit.app.session import FIELD
from pose_fit.app.style import table
from pose_fit.app.views.messages import plain
from pose_fit.bicycle.catalogue_edit import headers_of
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.shop_stock import StockState
from pose_fit.errors import CaseBookError, CatalogueError
from pose_fit.metrology.units import both_units

__all__ = ["show_stock"]

_PAGE = "staff.stock"


def show_stock(book: CaseBook, *, by: str) -> None:
    """The list as it stands, its changes, and the three ways to change it."""
    state = book.stock.state()
    if state is None:
        st.info(
            "There is no list of your bicycles yet. Until there is, families see a demo shop’s.",
            icon=":material/pedal_bike:",
        )
    else:
        st.markdown(f"**{len(state.bicycles)} bicycles.** Families see them as the shop’s.")
        with st.container(border=True):
            _measure(book, state, by=by)
        with st.container(border=True):
            _correct(book, state, by=by)
    with st.container(border=True):
        _upload(book, state, by=by)
    if state is not None:
        _show_list(state)
        st.subheader("What changed")
        table(
            ("When (UTC)", "Who", "What"),
            [(f"{each.at:%Y-%m-%d %H:%M}", each.by, each.what) for each in book.stock.changes()],
        )


def _measure(book: CaseBook, state: StockState, *, by: str) -> None:
    st.markdown("**A bicycle was measured here**")
    st.caption(
        "With a tape, from the floor to the top of the top tube just ahead of the saddle, tyres"
        " inflated. A measured standover is surer than a published one."
    )
    name = st.selectbox("Bicycle measured", _names(state), key=f"{FIELD}{_PAGE}.measured")
    standover_mm = length_field("Standover", f"{_PAGE}.standover", example_mm=560)
    if st.button("Keep the measurement", disabled=standover_mm is None):
        assert standover_mm is not None
        try:
            book.stock.measured(state, name=name, standover_mm=standover_mm, by=by)
        except (CaseBookError, CatalogueError) as error:
            st.error(plain(str(error)), icon=":material/edit:")
            return
        st.rerun()


def _correct(book: CaseBook, state: StockState, *, by: str) -> None:
    st.markdown("**Correct one value**")
    left, middle, right = st.columns(3)
    name = left.selectbox("Bicycle", _names(state), key=f"{FIELD}{_PAGE}.name")
    headers = headers_of(state.catalogue)
    header = middle.selectbox("Column", headers, key=f"{FIELD}{_PAGE}.header")
    value = right.text_input("New value", key=f"{FIELD}{_PAGE}.value")
    if st.button("Change it"):
        try:
            book.stock.correct(state, name=name, header=header, value=value, by=by)
        except (CaseBookError, CatalogueError) as error:
            st.error(plain(str(error)), icon=":material/edit:")
            return
        st.rerun()


def _upload(book: CaseBook, state: StockState | None, *, by: str) -> None:
    st.markdown("**Upload the whole list**")
    uploaded = st.file_uploader("List of your bicycles (CSV)", type=["csv", "txt"])
    if uploaded is None or not st.button("Put it in place of the present list"):
        return
    try:
        text = uploaded.getvalue().decode("utf-8-sig")
        based_on = None if state is None else state.change_id
        book.stock.replace(text, by=by, based_on=based_on, source=uploaded.name)
    except UnicodeDecodeError:
        st.error("The file is no UTF-8 text; save the table as “CSV UTF-8”.")
    except (CaseBookError, CatalogueError) as error:
        st.error("**The list cannot be used yet.**")
        st.code(str(error), language=None, wrap_lines=True)
    else:
        st.rerun()


def _show_list(state: StockState) -> None:
    st.dataframe(
        [
            {
                "bicycle": bicycle.name,
                "standover": both_units(bicycle.standover_mm),
                "source": bicycle.standover_source,
                "in stock": "yes" if bicycle.in_stock else "no",
            }
            for bicycle in state.bicycles
        ],
        hide_index=True,
    )
    st.download_button(
        "Download the list", state.catalogue, file_name="bicycles.csv", mime="text/csv"
    )


def _names(state: StockState) -> list[str]:
    return [bicycle.name for bicycle in state.bicycles]
