"""A visitor who chose Spanish reads no English, on any family page in any state that a test reaches."""

import datetime as dt
import re
from collections.abc import Iterator
from string import Formatter

import pytest
from streamlit.testing.v1 import AppTest

from pose_fit.app.family import case_status
from pose_fit.app.inputs.uploads import SAMPLE_FOLDER
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import LANGUAGE_NAMES
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent
from pose_fit.casebook.decision import Accepted
from pose_fit.inseam.inseam import Inseam

from .app_page import Page
from .test_case_status import ALONE as CASE_ALONE
from .test_texts import TABLES, leaves

JPEG = "image/jpeg"
#: Tables of pages that are not the family's, and names that are alike in both languages.
NOT_OF_FAMILY = ("LANGUAGE_NAMES",)
LABELLED = (
    *("button", "text_input", "number_input", "selectbox", "radio", "checkbox", "toggle"),
    *("date_input", "multiselect", "button_group", "file_uploader", "expander"),
)


def english() -> dict[str, re.Pattern[str]]:
    """Each English text, as it stands on a page with its places filled in."""
    patterns = {}
    for name, table in TABLES.items():
        if name.endswith(NOT_OF_FAMILY):
            continue
        spanish = dict(leaves(table["es"]))
        for path, text in leaves(table["en"]):
            if len(text) < 8 or text == spanish[path]:
                continue
            parts = [re.escape(fixed) for fixed, *_ in Formatter().parse(text)]
            if max(map(len, parts)) >= 8:
                patterns[f"{name}{path}"] = re.compile(rf"(?<!\w){'.{1,60}?'.join(parts)}(?!\w)")
    return patterns


ENGLISH = english()


def read_on(page: Page) -> Iterator[str]:
    """Everything that is read or heard on a page, labels, choices and help included."""
    yield page.text
    for kind in LABELLED:
        for widget in page.app.get(kind):
            proto = widget.proto
            yield from (widget.label, getattr(proto, "help", ""), getattr(proto, "placeholder", ""))
            yield from map(str, getattr(widget, "options", ()))
    for download in page.app.get("download_button"):
        yield download.proto.label


def found_english(page: Page) -> list[str]:
    text = "\n".join(read_on(page)).replace("\\", "")
    found = [name for name, pattern in ENGLISH.items() if pattern.search(text)]
    found += re.findall(r"(?:under|over) \d+%", text)
    # What comes from elsewhere than the tables shows by words that are no Spanish ones.
    heard = " ".join(re.findall(r' alt="([^"]*)"', text))
    text = re.sub(r"<(style|script).*?</\1>|<[^>]*>", " ", text, flags=re.DOTALL) + heard
    return found + re.findall(r".{0,40}\b(?:the|and|with|of|your|is)\b.{0,40}", text)


def test_english_is_found_where_it_stands(page):
    """The page in English holds many of these texts, so that the search is no empty one."""
    assert len(found_english(page)) > 8


@pytest.fixture
def spanish(page) -> Page:
    return page.press(LANGUAGE_NAMES["es"])


def upload(page: Page, name: str, label: str = "Hacer o elegir") -> Page:
    data = (SAMPLE_FOLDER / f"{name}.jpg").read_bytes()
    return page.upload(label, (f"{name}.jpg", data, JPEG))


def test_the_first_screen_and_the_tape(spanish):
    assert found_english(spanish) == []
    spanish.press("Usar una cinta")
    assert found_english(spanish) == []
    spanish.widget("text_input", "Medida 1").set_value("60 cm")
    spanish.widget("text_input", "Medida 2").set_value("alto")
    spanish.press("Ver la respuesta")
    assert found_english(spanish) == []
    spanish.enter("radio", "Bicicletas", "own")
    assert found_english(spanish) == []
    bad_list = b"name,tyre,standover_mm\nPipwren,47-406,alto\n"
    spanish.upload("Lista", ("lista.csv", bad_list, "text/csv"))
    assert "lista.csv, línea 2, columna standover_mm: debe ser una longitud" in spanish.text
    assert found_english(spanish) == []
    spanish.enter("radio", "Bicicletas", "demo")
    spanish.enter("number_input", "Edad", 8.0)
    spanish.enter("text_input", "Medida en el costado", "47-406")
    assert found_english(spanish) == []
    spanish.enter("number_input", "Edad", 2.0)
    assert "¿Es esta la entrepierna?" in spanish.text
    assert found_english(spanish) == []


def test_pictures_and_questions(spanish):
    upload(spanish, "letter_2")
    assert found_english(spanish) == []
    spanish.press("Sí, los dos en el suelo")
    assert FAMILY["es"].for_surer in spanish.text
    assert found_english(spanish) == []
    spanish.press("Empezar de nuevo")
    upload(spanish, "sheet_3")
    assert found_english(spanish) == []
    spanish.enter("toggle", "Corregir las marcas", True)
    assert found_english(spanish) == []
    spanish.press("Empezar de nuevo")
    for name in ("wheel_1", "door_1"):
        upload(spanish, name)
        assert found_english(spanish) == []
        spanish.press("Empezar de nuevo")


def test_a_picture_that_cannot_be_measured(spanish, empty_wall):
    spanish.upload("Hacer o elegir", ("pared.jpg", empty_wall, JPEG))
    assert found_english(spanish) == []
    spanish.upload("Añada", ("notas.jpg", b"no es una foto", JPEG))
    assert found_english(spanish) == []


IN_SPANISH = """
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import choose_language
choose_language("es")
"""


def test_the_gift_page():
    from .conftest import ALONE, PLACES

    script = IN_SPANISH + ALONE.format(name="gift", place=PLACES["gift"])
    page = Page(AppTest.from_string(script, default_timeout=60)).run()
    assert found_english(page) == []
    page.enter("checkbox", "Soy la madre", True)
    page.enter("button_group", "¿Qué tiene?", ["picture", "trousers", "bicycle", "size"])
    assert found_english(page) == []
    page.enter("text_input", "Costura interior", "55 cm")
    page.enter("number_input", "Edad", 6.0)
    page.enter("date_input", "Día del regalo", dt.date.today() + dt.timedelta(days=60))
    upload(page, "sheet_3", "Elegir fotos")
    assert found_english(page) == []


def test_the_gift_page_with_a_bicycle_for_the_day():
    from .conftest import ALONE, PLACES

    script = IN_SPANISH + ALONE.format(name="gift", place=PLACES["gift"])
    page = Page(AppTest.from_string(script, default_timeout=60)).run()
    page.enter("checkbox", "Soy la madre", True)
    page.enter("button_group", "¿Qué tiene?", ["picture"])
    upload(page, "sheet_3", "Elegir fotos")
    assert "Le queda bien ese día:" in page.text
    assert "Mostrar la bicicleta de equilibrio" in [button.label for button in page.app.button]
    assert found_english(page) == []


def test_my_case(tmp_path, monkeypatch):
    monkeypatch.setenv("POSE_FIT_CASE_BOOK", str(tmp_path / "cases.db"))
    monkeypatch.setattr(case_status, "_WRONG_CODE_S", 0.0)
    estimate = Inseam.stated(600.0, 8.0)
    page = Page(AppTest.from_string(IN_SPANISH + CASE_ALONE, default_timeout=60)).run()
    assert found_english(page) == []
    with CaseBook(tmp_path / "cases.db") as book:
        case = book.receive(CaseContent(estimate=estimate), by="family")
        page.enter("text_input", "Código de respuesta", "0000-0000")
        assert found_english(page) == []
        page.enter("text_input", "Código de respuesta", case.reply_code)
        assert "En espera" in page.text
        assert found_english(page) == []
        page.press("Guardar juntos")
        assert found_english(page) == []
        case = book.case(case.case_id)
        book.act(case, Accepted(), by="Kim")
    page.run()
    assert "Respondido" in page.text
    assert found_english(page) == []
