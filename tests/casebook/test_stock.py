"""The shop's bicycles: uploaded, corrected, measured, with what changed; nobody's work is lost."""

import pytest

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, parse_catalogue
from pose_fit.bicycle.catalogue_edit import (
    BicycleChange,
    CatalogueChange,
    SomeNames,
    StandoverMeasured,
    ValueChange,
    catalogue_change,
    with_cell,
    with_measured_standover,
)
from pose_fit.casebook.book import CaseBook
from pose_fit.errors import CaseBookError, CatalogueError

TEXT = """Name;tyre;Standover_in;in_stock
Alder 16;47-305;17.5;yes
"Birch; 20";47-406;21;no
"""


def test_a_catalogue_is_kept_for_all_branches_with_what_changed(book, where, clock):
    assert book.stock.state() is None
    assert book.stock.newest_change_id() is None
    first = book.stock.replace(TEXT, by="Kim", based_on=None)
    clock.move(hours=2)
    second = book.stock.replace(
        TEXT.replace("Alder 16", "Cedar 24").replace(";21;no", ";20,5;yes"),
        by="Noor",
        based_on=first.change_id,
    )
    with CaseBook(where) as other:
        assert other.stock.state() == second
        changes = other.stock.changes()
    assert [(each.by, each.what) for each in changes] == [
        (
            "Noor",
            CatalogueChange(
                added=SomeNames(1, ("Cedar 24",)),
                gone=SomeNames(1, ("Alder 16",)),
                changed=(
                    BicycleChange(
                        "Birch; 20",
                        (
                            ValueChange("standover_mm", 533.4, 20.5 * 25.4),
                            ValueChange("in_stock", before=False, after=True),
                        ),
                    ),
                ),
                changed_count=1,
            ),
        ),
        (
            "Kim",
            CatalogueChange(
                added=SomeNames(2, ("Alder 16", "Birch; 20")),
                gone=SomeNames(0, ()),
                changed=(),
                changed_count=0,
            ),
        ),
    ]
    assert changes[0].at == clock.now


def test_a_measured_bicycle_has_its_standover_and_source(book):
    state = book.stock.replace(TEXT, by="Kim", based_on=None)
    before = state.bicycles[1]
    state = book.stock.measured(state, name="birch; 20", standover_mm=527.0, by="Kim")
    bicycle = state.bicycles[1]
    assert bicycle.standover_mm == pytest.approx(527.0, abs=0.2)
    assert bicycle.standover_source == "measured"
    assert bicycle.standover_sd_mm < before.standover_sd_mm
    assert state.bicycles[0].standover_source != "measured"
    assert book.stock.changes()[0].what == StandoverMeasured("birch; 20", 527.0)


def test_one_value_is_corrected(book):
    state = book.stock.replace(TEXT, by="Kim", based_on=None)
    state = book.stock.correct(state, name="Alder 16", header="In_Stock", value="no", by="Kim")
    assert not state.bicycles[0].in_stock
    with pytest.raises(CatalogueError, match="column tyre"):
        book.stock.correct(state, name="Alder 16", header="tyre", value="round", by="Kim")
    with pytest.raises(CatalogueError, match="found 'Elm 12'"):
        book.stock.correct(state, name="Elm 12", header="tyre", value="47-305", by="Kim")
    assert book.stock.state() == state


def test_two_people_at_once_lose_nothing(book):
    state = book.stock.replace(TEXT, by="Kim", based_on=None)
    book.stock.measured(state, name="Alder 16", standover_mm=440.0, by="Kim")
    with pytest.raises(CaseBookError, match="somebody changed the stock"):
        book.stock.correct(state, name="Alder 16", header="in_stock", value="no", by="Noor")
    assert len(book.stock.changes()) == 2


def test_a_faulty_list_changes_nothing(book):
    with pytest.raises(CatalogueError, match="wanted a column"):
        book.stock.replace("a,b\n1,2\n", by="Kim", based_on=None)
    assert book.stock.state() is None


def test_an_edit_touches_one_cell_alone():
    text = DEMO_CATALOGUE.read_text("utf-8")
    before = parse_catalogue(text, source="demo")
    name = before[3].name
    after = parse_catalogue(
        with_measured_standover(text, name=name, standover_mm=before[3].standover_mm + 5),
        source="demo",
    )
    assert [old == new for old, new in zip(before, after, strict=True)].count(False) == 1
    (changed,) = catalogue_change(before, after).changed
    assert changed.name == name
    (value,) = changed.values
    assert (value.field, value.after - value.before) == ("standover_mm", 5)
    assert catalogue_change(after, after) == catalogue_change((), ())


def test_many_changes_are_counted():
    lines = "".join(f"Elm {n},47-305,{300 + n}\n" for n in range(9))
    many = parse_catalogue("name,tyre,standover_mm\n" + lines, source="list")
    added_now = catalogue_change((), many).added
    assert (added_now.count, added_now.first[:2]) == (9, ("Elm 0", "Elm 1"))
    assert len(added_now.first) < 9
    added = with_cell("name,tyre,standover_mm\nA,47-305,300\n", name="a", header="price", value="9")
    assert parse_catalogue(added, source="list")[0].price == 9.0
