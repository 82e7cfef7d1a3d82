"""The HTML, read back by Python's own parser."""

import base64
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.card.card import CardBicycle
from pose_fit.card.html import card_html

#: Elements without an end tag (HTML Living Standard, 13.1.2).
VOID = {"meta", "img", "br", "hr", "input", "link"}


class Page(HTMLParser):
    """Elements with attributes, visible text, and whether everything that opens is closed."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.pieces: list[str] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attributes):
        self.elements.append((tag, dict(attributes)))
        assert len(dict(attributes)) == len(attributes), f"attribute given twice in {tag}"
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.elements.append((tag, dict(attributes)))

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" not in self.open:
            self.pieces.append(data)

    @property
    def text(self) -> str:
        return " ".join("".join(self.pieces).replace("\u00a0", " ").split())

    def tags(self, name: str) -> list[dict[str, str]]:
        return [attributes for tag, attributes in self.elements if tag == name]


def test_the_page_says_everything(card, told):
    text = Page(card_html(card)).text
    for wanted in told:
        assert wanted in text


def test_the_page_is_built_as_a_page_should_be(card):
    source = card_html(card)
    page = Page(source)
    assert source.startswith('<!doctype html>\n<html lang="en">')
    for once in ("html", "head", "body", "title", "h1", "main", "header", "footer"):
        assert len(page.tags(once)) == 1, once
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in zip(levels, levels[1:], strict=False))
    assert {"name": "viewport", "content": "width=device-width, initial-scale=1"} in page.tags(
        "meta"
    )
    assert page.tags("time") == [{"datetime": "2026-03-02"}]
    assert [len(page.tags(name)) for name in ("h3", "figure", "figcaption")] == [3, 1, 1]


def test_pictures_have_text_alternatives(card):
    page = Page(card_html(card))
    [image] = page.tags("img")
    assert image["alt"] == "A child standing over a bicycle."
    drawn = base64.b64decode(image["src"].removeprefix("data:image/svg+xml;base64,")).decode()
    assert drawn == card.drawing.svg
    for svg in page.tags("svg"):
        named = svg.get("role") == "img" and svg.get("aria-label", "").strip()
        assert named or svg.get("aria-hidden") == "true"


def test_nothing_is_fetched_and_nothing_runs(card):
    source = card_html(card)
    page = Page(source)
    assert not {"script", "link", "iframe", "object", "form"} & {tag for tag, _ in page.elements}
    assert not [name for _, each in page.elements for name in each if name.startswith("on")]
    assert "http:" not in source
    assert "https:" not in source
    [policy] = [each for each in page.tags("meta") if "http-equiv" in each]
    assert "default-src 'none'" in policy["content"]


HOSTILE = "\"><script>alert(1)</script><img src=x onerror=alert(2)>&lt;'</style></title>"


def test_everything_typed_is_escaped(card):
    bicycle = CardBicycle(
        name=HOSTILE, standing="try", headline=HOSTILE, reasons=(HOSTILE,), cautions=(HOSTILE,)
    )
    drawing = replace(card.drawing, caption=HOSTILE, description=HOSTILE)
    hostile = replace(
        card, label=HOSTILE, bicycles=(bicycle,), advice=(HOSTILE,), measured=HOSTILE,
        checked=HOSTILE, shop=HOSTILE, drawing=drawing,
    )  # fmt: skip
    page = Page(card_html(hostile))
    assert page.tags("script") == []
    assert len(page.tags("img")) == 1
    assert page.tags("img")[0]["alt"] == HOSTILE
    assert page.text.count(HOSTILE) == 10


@given(st.text(st.characters(exclude_categories=()), max_size=60))
def test_any_label_leaves_the_page_whole(label):
    import datetime as dt

    from pose_fit.card.card import FitCard
    from pose_fit.inseam.inseam import Inseam

    card = FitCard(
        made_on=dt.date(2026, 3, 2),
        inseam=Inseam.stated(560.0, 10.0),
        measured="x",
        label=label,
    )
    page = Page(card_html(card))
    card_html(card).encode("utf-8")
    assert " ".join(card.label.replace("\u00a0", " ").split()) in page.text
    assert not page.tags("script")


def test_the_label_stands_only_where_the_family_sees_it(card):
    page = Page(card_html(card))
    assert page.text.count("Zoë’s birthday") == 1
    nameless = card_html(replace(card, label=""))
    assert "Zoë" not in nameless
    assert 'class="label"' not in nameless


@pytest.mark.parametrize("standing", ["try", "unsure", "leave"])
def test_a_verdict_is_told_by_word_and_shape(card, bicycles, standing):
    one = replace(card, bicycles=(replace(bicycles[0], standing=standing),))
    source = card_html(one)
    shape = re.search(r'<svg class="sign".*?</svg>', source)[0]
    others = {"try": "<circle", "unsure": 'class="solid"', "leave": "<rect"}
    assert [name for name, part in others.items() if part in shape] == [standing]


def test_without_label_advice_drawing_or_shop_the_page_still_stands(card):
    bare = replace(card, label="", advice=(), drawing=None, checked="", shop="", bicycles=())
    page = Page(card_html(bare))
    assert "22.0 in" in page.text
    assert "does not replace standing over the bicycle" in page.text
    assert (page.tags("img"), page.tags("ol")) == ([], [])
