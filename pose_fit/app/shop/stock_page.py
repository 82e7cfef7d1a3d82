"""The shop's bicycles: measure one, add one, correct or take one out, or upload a whole list."""

import math
from collections.abc import Callable, Sequence

import streamlit as st

from pose_fit.app.inputs.file_field import LISTS, file_field
from pose_fit.app.inputs.lengths import USUAL_STANDOVER_MM, length_field, length_text
from pose_fit.app.inputs.new_bicycle import ask_new_bicycle
from pose_fit.app.local_time import moment_text
from pose_fit.app.session import FIELD
from pose_fit.app.shop.stock_words import change_words
from pose_fit.app.style import table
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.notice_texts import MESSAGES
from pose_fit.app.texts.stock_texts import STOCK
from pose_fit.app.views.messages import fault_text, list_faults
from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import parse_catalogue
from pose_fit.bicycle.catalogue_edit import headers_of, with_cell
from pose_fit.bicycle.standover_doubts import StandoverDoubt, standover_doubts
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.shop_stock import StockState
from pose_fit.errors import CaseBookError, CatalogueError

__all__ = ["show_stock"]

_PAGE = "staff.stock"
#: How many were added in this session: the next one gets fields of its own, which are empty.
_ADDED = f"{_PAGE}.added_so_far"


def show_stock(book: CaseBook, *, by: str) -> None:
    """The list as it stands, its changes, and the ways to change it."""
    say = in_language(STOCK)
    state = book.stock.state()
    if state is None:
        st.info(say.none, icon=":material/pedal_bike:")
    else:
        st.markdown(say.count.format(count=len(state.bicycles)))
        _show_list(state)
        with st.container(border=True):
            _measure(book, state, by=by)
    with st.container(border=True):
        _add(book, state, by=by)
    if state is not None:
        with st.container(border=True):
            _correct(book, state, by=by)
        with st.container(border=True):
            _take_out(book, state, by=by)
    with st.container(border=True):
        _upload(book, state, by=by)
    if state is not None:
        st.subheader(say.changes)
        table(
            say.changes_table,
            [
                (moment_text(each.at), each.by, change_words(each.what))
                for each in book.stock.changes()
            ],
        )


def _measure(book: CaseBook, state: StockState, *, by: str) -> None:
    say = in_language(STOCK)
    st.markdown(say.measure)
    st.caption(say.measure_how)
    name = st.selectbox(say.measured, _names(state), key=f"{FIELD}{_PAGE}.measured")
    standover_mm = length_field(
        say.standover, f"{_PAGE}.standover", example_mm=560, usual_mm=USUAL_STANDOVER_MM
    )
    pressed = st.button(say.keep, disabled=standover_mm is None)
    if standover_mm is None:
        return
    kept_mm = standover_mm
    _change_unless_doubted(
        lambda: book.stock.measured(state, name=name, standover_mm=kept_mm, by=by),
        _bicycle(state.bicycles, name),
        standover_mm,
        state.bicycles,
        pressed=pressed,
        key="measured",
    )


def _correct(book: CaseBook, state: StockState, *, by: str) -> None:
    say = in_language(STOCK)
    st.markdown(say.correct)
    left, middle, right = st.columns(3)
    name = left.selectbox(say.bicycle, _names(state), key=f"{FIELD}{_PAGE}.name")
    headers = headers_of(state.catalogue)
    header = middle.selectbox(say.column, headers, key=f"{FIELD}{_PAGE}.header")
    value = right.text_input(say.value, key=f"{FIELD}{_PAGE}.value")
    pressed = st.button(say.change)
    _change_unless_doubted(
        lambda: book.stock.correct(state, name=name, header=header, value=value, by=by),
        _bicycle(state.bicycles, name),
        _corrected_standover_mm(state, name, header, value),
        state.bicycles,
        pressed=pressed,
        key="corrected",
    )


def _add(book: CaseBook, state: StockState | None, *, by: str) -> None:
    say = in_language(STOCK)
    st.markdown(say.add if state is not None else say.add_first)
    added: int = st.session_state.get(_ADDED, 0)
    bicycle = ask_new_bicycle(f"{_PAGE}.new.{added}")
    pressed = st.button(say.add_it, disabled=bicycle is None)
    if bicycle is None:
        return
    new = bicycle

    def add() -> None:
        book.stock.add(state, new, by=by)
        st.session_state[_ADDED] = added + 1

    bicycles = () if state is None else state.bicycles
    _change_unless_doubted(add, new, new.standover_mm, bicycles, pressed=pressed, key="added")


def _take_out(book: CaseBook, state: StockState, *, by: str) -> None:
    say = in_language(STOCK)
    st.markdown(say.take_out)
    name = st.selectbox(say.taken_out, _names(state), key=f"{FIELD}{_PAGE}.taken_out")
    if st.button(say.take_it_out):
        _change(lambda: book.stock.take_out(state, name=name, by=by))


def _corrected_standover_mm(state: StockState, name: str, header: str, value: str) -> float | None:
    """The standover that a correction would leave; None where it leaves the old one or has a fault."""
    try:
        text = with_cell(state.catalogue, name=name, header=header, value=value)
        bicycle = _bicycle(parse_catalogue(text, source=""), name)
    except CatalogueError:
        return None
    is_new = bicycle.standover_mm != _bicycle(state.bicycles, name).standover_mm
    return bicycle.standover_mm if is_new else None


def _change_unless_doubted(
    change: Callable[[], object],
    bicycle: Bicycle,
    standover_mm: float | None,
    bicycles: Sequence[Bicycle],
    *,
    pressed: bool,
    key: str,
) -> None:
    """Do it once the button is pressed; a standover that cannot well be is asked about first."""
    say, asked = in_language(STOCK), f"{_PAGE}.{key}.asked"
    question = bicycle.name, standover_mm
    doubts: tuple[StandoverDoubt, ...] = ()
    if standover_mm is not None:
        doubts = standover_doubts(bicycle, standover_mm, bicycles)
    if pressed and (standover_mm is None or not doubts):
        _change(change)
        return
    if pressed:
        st.session_state[asked] = question
    if not doubts or standover_mm is None or st.session_state.get(asked) != question:
        return
    lines = [
        say.doubts[doubt.kind].format(
            known=length_text(bicycle.standover_mm),
            low=length_text(doubt.low_mm) if math.isfinite(doubt.low_mm) else "",
            high=length_text(doubt.high_mm) if math.isfinite(doubt.high_mm) else "",
        )
        for doubt in doubts
    ]
    told = say.doubt.format(length=length_text(standover_mm))
    st.warning("\n".join([told, "", *(f"- {line}" for line in lines)]), icon=":material/help:")
    if st.button(say.keep_anyway, key=f"{_PAGE}.{key}.sure"):
        _change(change)


def _bicycle(bicycles: Sequence[Bicycle], name: str) -> Bicycle:
    return next(bicycle for bicycle in bicycles if bicycle.name == name)


def _change(change: Callable[[], object]) -> None:
    try:
        change()
    except (CaseBookError, CatalogueError) as error:
        st.error(fault_text(error), icon=":material/edit:")
        return
    st.rerun()


def _upload(book: CaseBook, state: StockState | None, *, by: str) -> None:
    say = in_language(STOCK)
    st.markdown(say.upload_new if state is None else say.upload)
    uploaded = file_field(
        "stock_list",
        say.uploader,
        types=LISTS,
        key=f"{_PAGE}.list",
        refused=in_language(MESSAGES).refused_list,
    )
    if uploaded is None or not st.button(say.put if state is None else say.replace):
        return
    try:
        text = uploaded.getvalue().decode("utf-8-sig")
        based_on = None if state is None else state.change_id
        book.stock.replace(text, by=by, based_on=based_on, source=uploaded.name)
    except UnicodeDecodeError:
        st.error(say.not_utf8)
    except (CaseBookError, CatalogueError) as error:
        st.error(say.fault)
        # Line and column of the fault help in any language.
        st.code(list_faults(str(error)), language=None, wrap_lines=True)
    else:
        st.rerun()


def _show_list(state: StockState) -> None:
    say = in_language(STOCK)
    st.subheader(say.list_title)
    rows = [
        (
            bicycle.name,
            length_text(bicycle.standover_mm),
            say.sources[bicycle.standover_source],
            say.in_stock[1 if bicycle.in_stock is False else 0],
        )
        for bicycle in state.bicycles
    ]
    st.dataframe([dict(zip(say.table, row, strict=True)) for row in rows], hide_index=True)
    st.download_button(say.download, state.catalogue, file_name="bicycles.csv", mime="text/csv")


def _names(state: StockState) -> list[str]:
    return [bicycle.name for bicycle in state.bicycles]
