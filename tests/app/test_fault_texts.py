"""Every fault that a file, a list or a code may have is told in Spanish."""

import io
import re

import numpy as np
import pytest
from PIL import Image

from pose_fit.app.texts.fault_texts import fault_es
from pose_fit.bicycle.catalogue import parse_catalogue
from pose_fit.bicycle.catalogue_edit import with_cell
from pose_fit.bicycle.tyre import read_marking
from pose_fit.casebook.book import CaseBook
from pose_fit.errors import CaseBookError, CatalogueError, PhotoFileError, TyreMarkingError
from pose_fit.photo.clip import read_clip
from pose_fit.photo.photo import read_photo
from tests.bicycle.test_catalogue import FAULTY, GOOD, HEAD

ENGLISH = re.compile(r"\b(?:wanted|found|the|is|line|column|and|or|between|cell|known|empty)\b")
#: What the file itself says, between quotes, and the headers that it lacks.
QUOTED = re.compile(r"'[^']*'")

MORE = [
    HEAD + "".join(f"Pipwren {row},47-406,low,,,,\n" for row in range(40)),
    "name,tyre,standover_mm,pedals,crank_mm\nPipwren,47-406,300,no,90\n",
    "name,tyre,standover_mm,standover_source\nPipwren,47-406,300,guessed\n",
    *(
        f'name,tyre,standover_mm\nPipwren,"{tyre}",500\n'
        for tyre in ("47-999", "20 x 1.75 (47-507)", "20 x 9.5", "20 x 3 7/8", "500A", "350Z")
    ),
]


@pytest.mark.parametrize("text", [*(text for text, _ in FAULTY), *MORE])
def test_a_fault_is_told_in_spanish(text):
    with pytest.raises(CatalogueError) as caught:
        parse_catalogue(text, source="lista.csv")
    english = str(caught.value)
    spanish = fault_es(english)
    assert spanish is not None, english
    assert not ENGLISH.search(QUOTED.sub("", spanish)), spanish
    # Where it stands and what stands there is not lost.
    assert spanish.startswith("lista.csv")
    for number in re.findall(r"line (\d+)", english):
        assert re.search(rf"línea {number}\b", spanish)
    for header in re.findall(r"column (\w+):", english):
        assert f"columna {header}" in spanish


@pytest.mark.parametrize("marking", ["huge", "47-999", "20 x 3 7/8", "500A", "20 x 9.5"])
def test_a_fault_of_a_marking_is_told_in_spanish(marking):
    with pytest.raises(TyreMarkingError) as caught:
        read_marking(marking)
    told = fault_es(str(caught.value))
    assert told is not None, caught.value
    assert not ENGLISH.search(QUOTED.sub("", told)), told


def test_a_bicycle_that_is_not_in_the_list():
    with pytest.raises(CatalogueError) as caught:
        with_cell(HEAD + GOOD, name="Nobody", header="price", value="5")
    assert fault_es(str(caught.value)) == "en la lista no hay ninguna bicicleta 'Nobody'"


def jpeg(height: int, width: int) -> bytes:
    shades = np.random.default_rng(3).integers(0, 255, (height, width, 3), dtype=np.uint8)
    buffer = io.BytesIO()
    Image.fromarray(shades).save(buffer, "JPEG")
    return buffer.getvalue()


@pytest.mark.parametrize(
    "data", [b"", b"%PDF-1.4", jpeg(400, 400)[:2000], jpeg(100, 300), jpeg(250, 2600)]
)
def test_a_fault_of_a_picture_is_told_in_spanish_under_its_name(data):
    with pytest.raises(PhotoFileError) as caught:
        read_photo(data, name="niña.jpg")
    told = fault_es(str(caught.value))
    assert told is not None, caught.value
    assert told.startswith("niña.jpg: ")
    assert not ENGLISH.search(told), told


def test_a_fault_of_a_clip_is_told_in_spanish():
    with pytest.raises(PhotoFileError) as caught:
        read_clip(b"no clip", name="a.mp4")
    assert fault_es(str(caught.value)).startswith("a.mp4: ")


@pytest.mark.parametrize("code", ["AB12-CD34", "AB12-CD3"])
def test_a_code_that_is_none_is_told_in_spanish(tmp_path, code):
    """Not that the shop could not take what was sent."""
    with CaseBook(tmp_path / "cases.db") as book, pytest.raises(CaseBookError) as caught:
        book.case_of_code(code)
    assert "código" in fault_es(str(caught.value))


def test_what_is_not_known_is_left_to_whoever_asks():
    assert fault_es("the sky is green") is None
