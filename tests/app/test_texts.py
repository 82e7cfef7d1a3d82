"""Both languages say everything, with the same places to fill in; and nothing the library says is lost."""

import dataclasses
import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from pathlib import Path
from string import Formatter

import pytest

import pose_fit.app.texts
from pose_fit.app.texts.language import (
    LANGUAGES,
    date_format_of,
    language_of,
    paper_of,
    unit_of,
)
from pose_fit.app.texts.notice_texts import NOTICES_ES, SOURCES_ES
from pose_fit.budget_sources import BUDGET_SOURCES
from pose_fit.notice_codes import NOTICE_CODES

ROOT = Path(__file__).parents[2] / "pose_fit"


#: Modules outside the app whose words are in each language.
BELOW = (
    "pose_fit.card.card_texts",
    "pose_fit.casebook.letters",
    "pose_fit.drawing.drawing_texts",
    "pose_fit.pairs.pair_texts",
)
texts_path = pose_fit.app.texts.__path__


def tables() -> Iterator[tuple[str, Mapping]]:
    """Every table of texts by language, those below the app too."""
    names = [f"pose_fit.app.texts.{found.name}" for found in pkgutil.iter_modules(texts_path)]
    for found in [*names, *BELOW]:
        module = importlib.import_module(found)
        for name, value in vars(module).items():
            if isinstance(value, dict) and set(value) & set(LANGUAGES):
                yield f"{found}.{name}", value


TABLES = dict(tables())


def leaves(value: object, path: str = "") -> Iterator[tuple[str, str]]:
    if dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from leaves(getattr(value, field.name), f"{path}.{field.name}")
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from leaves(inner, f"{path}[{key}]")
    elif isinstance(value, tuple):
        for place, inner in enumerate(value):
            yield from leaves(inner, f"{path}[{place}]")
    else:
        yield path, value


def holes(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def test_there_are_tables():
    assert len(TABLES) > 10


@pytest.mark.parametrize("name", TABLES)
def test_no_text_is_missing_in_either_language_and_places_to_fill_in_match(name):
    english, *others = (dict(leaves(TABLES[name][one])) for one in LANGUAGES)
    assert english
    for other in others:
        assert set(other) == set(english)
        for path, text in other.items():
            assert text.strip() or not english[path].strip(), path
            assert holes(text) == holes(english[path]), path


@pytest.mark.parametrize("name", [name for name in TABLES if "language" not in name])
def test_a_sentence_is_translated_not_copied(name):
    english, spanish = (dict(leaves(TABLES[name][one])) for one in ("en", "es"))
    copied = [path for path, text in english.items() if len(text) > 20 and text == spanish[path]]
    assert copied == []


def test_every_code_of_the_library_has_a_spanish_sentence_and_no_other():
    assert set(NOTICES_ES) == set(NOTICE_CODES)


def test_every_line_of_a_budget_has_a_spanish_name_and_no_other():
    assert list(SOURCES_ES) == sorted(BUDGET_SOURCES)
    assert len(set(SOURCES_ES.values())) == len(BUDGET_SOURCES)


def test_spanish_sentences_end_as_sentences_and_hold_no_measurement():
    for code, text in NOTICES_ES.items():
        assert text.endswith("."), code
        assert "{" not in text


@pytest.mark.parametrize(
    ("locale", "language", "unit", "paper"),
    [
        ("en-US", "en", "in", "letter"),
        ("en", "en", "in", "letter"),
        (None, "en", "in", "letter"),
        ("en-GB", "en", "cm", "a4"),
        ("es-ES", "es", "cm", "a4"),
        ("es-MX", "es", "cm", "letter"),
        ("es-US", "es", "in", "letter"),
        ("es", "es", "cm", "a4"),
        ("fr-FR", "en", "cm", "a4"),
        ("de-Latn-AT", "en", "cm", "a4"),
    ],
)
def test_language_unit_and_paper_follow_the_browser(locale, language, unit, paper):
    assert (language_of(locale), unit_of(locale), paper_of(locale)) == (language, unit, paper)


@pytest.mark.parametrize(
    ("locale", "month_first"),
    [("en-US", True), ("es-US", True), ("en", True), (None, True), ("en-GB", False), ("es", False)],
)
def test_a_day_is_written_as_in_the_visitors_country(locale, month_first):
    assert date_format_of(locale).startswith("MM") == month_first
