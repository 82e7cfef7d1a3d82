"""Staff put the shop's bicycles in; families see them as the shop's."""

import pytest

from pose_fit.casebook.book import CaseBook

from .browser import PASSPHRASE

LIST = b"name,tyre,standover_mm\nAlder 16,47-305,445\nBirch 20,47-406,533\n"


@pytest.fixture
def book(tmp_path, monkeypatch):
    place = tmp_path / "cases.db"
    monkeypatch.setenv("POSE_FIT_CASE_BOOK", str(place))
    with CaseBook(place) as book:
        book.staff.add("Kim", PASSPHRASE)
        yield book


def stock_page(open_page):
    page = open_page("staff")
    page.widget("text_input", "Name").set_value("Kim")
    page.widget("text_input", "Passphrase").set_value(PASSPHRASE)
    page.press("Sign in")
    return page.enter("segmented_control", "Part of the book", "stock")


def test_the_list_is_uploaded_measured_and_seen_by_families(book, open_page, page):
    staff = stock_page(open_page)
    assert "families see a demo shop’s" in staff.text
    staff.upload("List of your bicycles", ("list.csv", LIST, "text/csv"))
    staff.press("Use this list")
    assert "**Bicycles: 2.**" in staff.text
    staff.enter("selectbox", "Bicycle measured", "Birch 20")
    staff.enter("text_input", "Standover", "53 cm")
    staff.press("Keep the measurement")
    bicycle = book.stock.state().bicycles[1]
    assert (bicycle.standover_mm, bicycle.standover_source) == (530.0, "measured")
    assert "measured: Birch 20, standover 20.9 in (53.0 cm)" in staff.text
    # A family with a tape reading.
    page.press("Use a tape instead")
    page.widget("text_input", "Reading 1").set_value("23.5 in")
    page.press("Show the answer")
    assert "Birch 20" in page.text
    assert "Pipwren" not in page.text


def test_a_fault_in_the_list_is_named_by_its_line(book, open_page):
    staff = stock_page(open_page)
    staff.upload("List of your bicycles", ("list.csv", LIST.replace(b"445", b"4450"), "text/csv"))
    staff.press("Use this list")
    assert "list.csv, line 2, column standover_mm" in staff.text
    assert book.stock.state() is None


def test_one_value_is_corrected(book, open_page):
    book.stock.replace(LIST.decode(), by="Kim", based_on=None)
    staff = stock_page(open_page)
    staff.enter("selectbox", "Bicycle", "Alder 16")
    staff.enter("selectbox", "Column", "standover_mm")
    staff.enter("text_input", "New value", "450")
    staff.press("Change it")
    assert book.stock.state().bicycles[0].standover_mm == 450
    assert "1 changed: Alder 16 (standover 17.5 in (44.5 cm) to 17.7 in (45.0 cm))" in staff.text


def test_what_changed_is_told_in_the_reader_s_language_and_unit_whoever_changed_it(book, open_page):
    """Kept as what changed, not as words."""
    state = book.stock.replace(LIST.decode(), by="Kim", based_on=None)
    state = book.stock.correct(
        state, name="Alder 16", header="seat_tube_angle_deg", value="71,5", by="Kim"
    )
    state = book.stock.correct(state, name="Alder 16", header="frame", value="sloping", by="Kim")
    book.stock.measured(state, name="Birch 20", standover_mm=530.0, by="Kim")
    staff = stock_page(open_page)
    assert "angle of the seat tube not known to 71.5°" in staff.text
    assert "frame not known to sloping top tube" in staff.text
    staff.app.session_state["field.language"] = "es"
    staff.run()
    for words in (
        "2 nuevas: Alder 16, Birch 20",
        "1 cambiadas: Alder 16 (ángulo del tubo del sillín: no se sabe → 71.5°)",
        "cuadro: no se sabe → tubo inclinado",
        "medida: Birch 20, altura del tubo",
    ):
        assert words in staff.text
    for english in ("changed", " new:", "measured:", "not known"):
        assert english not in staff.text


def test_a_standover_that_cannot_well_be_is_questioned_and_kept_only_when_said_to_be_right(
    book, open_page
):
    book.stock.replace(LIST.decode(), by="Kim", based_on=None)
    staff = stock_page(open_page)
    staff.enter("selectbox", "Bicycle measured", "Birch 20")
    staff.enter("text_input", "Standover", "83 cm")
    staff.press("Keep the measurement")
    assert "Is 32.7 in (83.0 cm) right?" in staff.text
    assert "The list says 21.0 in (53.3 cm)" in staff.text
    assert "With this wheel it is usually between" in staff.text
    assert book.stock.state().bicycles[1].standover_mm == 533
    # The tape was read wrong: another number is asked about for itself.
    staff.enter("text_input", "Standover", "53 cm")
    assert "right?" not in staff.text
    staff.press("Keep the measurement")
    assert book.stock.state().bicycles[1].standover_mm == 530
    # It is never blocked.
    staff.enter("text_input", "Standover", "62 cm")
    staff.press("Keep the measurement")
    staff.press("It is right: keep it")
    assert book.stock.state().bicycles[1].standover_mm == 620


def test_a_corrected_standover_is_questioned_too(book, open_page):
    book.stock.replace(LIST.decode(), by="Kim", based_on=None)
    staff = stock_page(open_page)
    staff.enter("selectbox", "Bicycle", "Alder 16")
    staff.enter("selectbox", "Column", "standover_mm")
    staff.enter("text_input", "New value", "645")
    staff.press("Change it")
    assert "Is 25.4 in (64.5 cm) right?" in staff.text
    assert book.stock.state().bicycles[0].standover_mm == 445
    staff.press("It is right: keep it")
    assert book.stock.state().bicycles[0].standover_mm == 645


def add(staff, name: str, tyre: str, standover: str):
    staff.widget("text_input", "Name, with its size").set_value(name)
    staff.widget("text_input", "Marking on the tyre").set_value(tyre)
    staff.enter("text_input", "Standover, measured", standover)
    return staff.press("Add it")


def test_bicycles_are_added_one_by_one_without_a_file_and_taken_out_again(book, open_page):
    staff = stock_page(open_page)
    add(staff, "Alder 16", "47-305", "44.5 cm")
    assert staff.widget("text_input", "Name, with its size").value == ""
    add(staff, "Birch 20", "47-406", "21 in")
    assert [bicycle.name for bicycle in book.stock.state().bicycles] == ["Alder 16", "Birch 20"]
    assert book.stock.state().bicycles[1].standover_mm == pytest.approx(533.4)
    assert book.stock.state().bicycles[1].standover_source == "measured"
    # The same name again is told, and nothing typed is lost.
    add(staff, "alder 16", "47-305", "44 cm")
    assert "There is a bicycle 'alder 16' already" in staff.text
    assert staff.widget("text_input", "Name, with its size").value == "alder 16"
    staff.enter("selectbox", "Bicycle to take out", "Alder 16")
    staff.press("Take it out")
    assert [bicycle.name for bicycle in book.stock.state().bicycles] == ["Birch 20"]
    assert "1 gone: Alder 16" in staff.text


def test_a_standover_that_cannot_well_be_is_questioned_before_a_bicycle_is_added(book, open_page):
    staff = stock_page(open_page)
    add(staff, "Alder 16", "47-305", "64.5 cm")
    assert "Is 25.4 in (64.5 cm) right?" in staff.text
    assert book.stock.state() is None
    staff.press("It is right: keep it")
    assert book.stock.state().bicycles[0].standover_mm == 645
