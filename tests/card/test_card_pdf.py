"""The PDF, read back by another library."""

import io
import re
import zlib
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from pose_fit.card.card import CardBicycle
from pose_fit.card.pdf import card_pdf
from pose_fit.errors import InputError
from pose_fit.refusal import Notice

#: Points: 8.5 x 11 in; 210 x 297 mm.
SIZES = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}


def _pages(pdf: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(pdf)).pages)


def _text(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in _pages(pdf)).split())


def _words_at(pdf: bytes) -> list[tuple[str, float, float]]:
    """Each piece of text with where it starts, points from the lower left."""
    found = []

    def see(text, user, place, font, size):
        if text.strip():
            x = place[4] * user[0] + place[5] * user[2] + user[4]
            y = place[4] * user[1] + place[5] * user[3] + user[5]
            found.append((text.strip(), x, y))

    [page] = _pages(pdf)
    page.extract_text(visitor_text=see)
    return found


def _full(card, letters):
    """The same card with every text as long as is allowed, eight bicycles."""
    line = (letters * 200)[:120]
    bicycle = CardBicycle(
        name=line,
        standing="check",
        headline=line,
        to_do="measure its standover height",
        reasons=((letters * 200)[:200], (letters * 200)[:200]),
        cautions=((letters * 300)[:300],),
    )
    warned = card.inseam.with_warnings(Notice("tape_odd_reading", (letters * 700)[:700]))
    return replace(
        card,
        inseam=warned,
        label=(letters * 200)[:200],
        bicycles=(bicycle,) * 8,
        advice=((letters * 300)[:300],) * 3,
        measured=(letters * 400)[:400],
        checked=line,
        shop=line,
        drawing=replace(card.drawing, caption=line),
    )


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_page_says_everything(card, told, paper):
    text = _text(card_pdf(card, paper=paper))
    for wanted in told:
        assert wanted in text
    assert "drawn words" in text


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("count", range(9))
def test_one_page_of_the_right_size_with_any_number_of_bicycles(card, bicycles, paper, count):
    some = (bicycles * 3)[:count]
    [page] = _pages(card_pdf(replace(card, bicycles=some), paper=paper))
    size = float(page.mediabox.width), float(page.mediabox.height)
    assert size == pytest.approx(SIZES[paper], abs=0.01)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("letters", ["some words of usual width ", "W", "W ", "Щ", "i"])
def test_the_longest_texts_fit_one_page(card, paper, letters):
    pdf = card_pdf(_full(card, letters), paper=paper)
    width, height = SIZES[paper]
    words = _words_at(pdf)
    assert all(20 < x < width - 20 and 15 < y < height - 10 for _, x, y in words)
    assert _text(pdf).count("Measure its standover height.") == 8
    # Nothing of the last bicycle reaches into the cautions below.
    cautions_y = next(y for text, _, y in words if text.startswith("Before the first"))
    last_y = min(y for text, _, y in words if text.startswith("Caution"))
    assert last_y > cautions_y


def test_texts_of_usual_length_are_set_in_type_that_can_be_read(card, bicycles):
    """Eight bicycles with the engine's own words: 7 points and more outside the drawing."""
    reasons = (
        "Standing over it in shoes, the child has 3.0 in (7.7 cm) above the top tube.",
        "From the lowest saddle the child reaches the ground on tiptoe.",
        "It lasts until the legs are about 2.7 in (6.9 cm) longer.",
    )
    cautions = (
        "The top tube rises towards the front. Stand over it just ahead of the saddle: a child who"
        " slides forward has less room.",
    )
    usual = tuple(replace(each, reasons=reasons, cautions=cautions) for each in (bicycles * 3)[:8])
    [page] = _pages(card_pdf(replace(card, bicycles=usual, drawing=None), paper="letter"))
    sizes = []
    page.extract_text(
        visitor_text=lambda text, user, place, font, size: sizes.append(size) if text.strip() else 0
    )
    assert min(sizes) >= 7


def test_letters_beyond_latin_are_printed_with_faces_that_have_them(card):
    label = "Юлия, Łukasz, Ελένη, Đặng"
    pdf = card_pdf(replace(card, label=label))
    assert label in _text(pdf)
    faces = {
        font["/BaseFont"]: "/FontFile2" in font["/FontDescriptor"]
        for page in _pages(pdf)
        for font in (each.get_object() for each in page["/Resources"]["/Font"].values())
        if "/FontDescriptor" in font
    }
    assert any("DejaVu" in name and embedded for name, embedded in faces.items())


def test_east_asian_labels_name_the_readers_own_faces(card):
    pdf = card_pdf(replace(card, label="小明 さくら 민준"))
    for face in (b"/STSong-Light", b"/HeiseiKakuGo-W5", b"/HYGothic-Medium"):
        assert face in pdf


def test_markup_in_texts_is_text(card):
    typed = '<b>bold</b> & <font color="white">hidden</font> <para>'
    assert typed in _text(card_pdf(replace(card, label=typed)))


def test_the_same_card_gives_the_same_file(card):
    assert card_pdf(card) == card_pdf(card)


def test_the_file_tells_nothing_of_machine_person_or_moment(card):
    pdf = card_pdf(replace(card, label=""))
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    about = reader.metadata
    assert about.title == "Fit card"
    assert about.author in (None, "", "(anonymous)", "anonymous")
    assert about.creation_date.year == 2000, "reportlab's fixed date, not the clock's"
    streams = [pdf]
    for match in re.finditer(rb"stream\r?\n(.*?)endstream", pdf, re.DOTALL):
        try:
            streams.append(zlib.decompress(match[1]))
        except zlib.error:
            continue
    everything = b"".join(streams)
    for secret in ("Zoë", str(Path.home()), str(Path.cwd()), "site-packages"):
        assert secret.encode() not in everything
    assert "/Metadata" not in reader.trailer["/Root"]


def test_without_label_advice_drawing_or_shop_the_page_still_stands(card, told):
    bare = replace(card, label="", advice=(), drawing=None, checked="", shop="", bicycles=())
    text = _text(card_pdf(bare))
    assert "22.0 in" in text
    assert "let the child stand over the bicycle" in text
    assert "What to do next" not in text


def test_signs_differ_by_shape_not_by_colour_alone(card, bicycles):
    """With all colours taken out, the three signs are still drawn differently."""

    def shapes(bicycle):
        pdf = card_pdf(replace(card, bicycles=(replace(bicycles[0], standing=bicycle),)))
        [page] = _pages(pdf)
        drawn = page.get_contents().get_data()
        plain = re.sub(rb"[\d.]+ [\d.]+ [\d.]+ (rg|RG)", b"", drawn)
        return re.findall(rb"\b(m|l|c|re|h)\b", re.sub(rb"\(.*?\)", b"", plain))

    assert len({tuple(shapes(standing)) for standing in ("try", "check", "leave")}) == 3


@pytest.mark.parametrize("svg", ["", "no svg", "<svg", "<p>html</p>"])
def test_a_drawing_that_is_no_svg_is_refused(card, svg):
    with pytest.raises(InputError, match="drawing: wanted an SVG text"):
        card_pdf(replace(card, drawing=replace(card.drawing, svg=svg)))


def test_unknown_paper_is_refused(card):
    with pytest.raises(InputError, match="paper: wanted one of letter, a4, found 'legal'"):
        card_pdf(card, paper="legal")
