"""Tables for spreadsheets: numbers stay numbers, text stays text."""

import csv
import io
import re
from dataclasses import replace

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.case import CaseContent
from pose_fit.casebook.clue import LiftClue, RemarkClue
from pose_fit.casebook.decision import Overridden
from pose_fit.casebook.export import COLUMNS
from pose_fit.files.csv_export import safe_cell
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal

OTHER = Inseam.stated(570.0, 9.0)
#: Starts of cells that spreadsheets evaluate (OWASP, "CSV Injection").
DANGEROUS = ("=", "+", "-", "@", "\t", "\r")


def _rows(table: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table.decode("utf-8-sig"), newline="")))


@pytest.mark.parametrize(
    ("typed", "cell"),
    [
        ("=1+1", "'=1+1"),
        ('=HYPERLINK("http://x.example","y")', '\'=HYPERLINK("http://x.example","y")'),
        ("+1", "'+1"),
        ("-2+3", "'-2+3"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\tTab", "'\tTab"),
        ("\rReturn", "'\rReturn"),
        ("  =1+1", "'  =1+1"),
        ("＝1+1", "'＝1+1"),
        ("Ada;=1+1", "Ada;'=1+1"),
        ("Ada\n=1+1", "Ada\n'=1+1"),
        ("Ada", "Ada"),
        ("Mary-Ann + 1", "Mary-Ann + 1"),
        ("a@b.example", "a@b.example"),
        ("", ""),
    ],
)
def test_formulas_are_made_text(typed, cell):
    assert safe_cell(typed) == cell


@given(st.text(st.sampled_from("=+-@\t\r\n;, '\"aé1＝"), max_size=12))
def test_no_cell_starts_a_formula_whichever_separator_is_taken(typed):
    table = io.StringIO(newline="")
    csv.writer(table).writerow([1, safe_cell(typed), "end"])
    for separator in ",;\t":
        for row in csv.reader(io.StringIO(table.getvalue(), newline=""), delimiter=separator):
            for cell in row:
                assert not cell.lstrip(' "').startswith(DANGEROUS), (separator, row)


@given(st.text(max_size=30))
def test_nothing_but_apostrophes_is_added(typed):
    kept = re.sub("'", "", safe_cell(typed))
    assert kept == re.sub("'", "", typed)


def test_the_table_has_every_case_with_its_numbers(book, content):
    book.receive(content, by="family")
    case = book.receive(replace(content, label='=cmd|"/c calc"!A1', child=Child()), by="family")
    book.act(case, Overridden(560.0, 9.0, "-5 from the shoes"), by="@Ada")
    refused = Refusal((Notice("nobody", "No person was found."),))
    clues = (RemarkClue(text="+49 170 000"),)
    book.receive(CaseContent(estimate=refused, clues=clues), by="family")
    table = book.export_csv(by="Ada")
    assert table.startswith(b"\xef\xbb\xbfcase,state,label,")
    first, second, third = _rows(table)
    assert tuple(first) == COLUMNS
    assert (first["label"], first["age_y"], first["stature_mm"]) == (
        "Zoë & Łukasz",
        "7.5",
        "1255.0",
    )
    assert first["received_utc"] == "2026-03-02 09:30:00"
    assert float(first["estimate_mm"]) == 554.0
    low_mm, high_mm = content.estimate.interval95_mm
    assert float(first["estimate_low95_mm"]) == round(low_mm, 1)
    assert float(first["estimate_high95_mm"]) == round(high_mm, 1)
    assert first["clues"].startswith("tape 21.7 in (55.2 cm), 21.9 in (55.6 cm); trousers")
    assert (second["label"], second["note"]) == ('\'=cmd|"/c calc"!A1', "'-5 from the shoes")
    assert (second["answer_mm"], second["decided_by"]) == ("560.0", "'@Ada")
    assert (third["estimate_mm"], third["refusal"]) == ("", "No person was found.")
    assert third["clues"] == "'+49 170 000"


def test_a_spreadsheet_reader_sees_numbers_as_numbers(book, content):
    for _ in range(3):
        book.receive(content, by="family")
    frame = pd.read_csv(io.BytesIO(book.export_csv(by="Ada")), encoding="utf-8-sig")
    for column in ("case", "age_y", "stature_mm", "estimate_mm", "estimate_sd_mm", "version"):
        assert pd.api.types.is_numeric_dtype(frame[column]), column


def test_a_lifted_bicycle_is_told_in_both_units(book):
    clue = LiftClue(standover_mm=508.0, lift_mm=50.8, lifted="whole", inseam=OTHER)
    book.receive(CaseContent(estimate=OTHER, clues=(clue,)), by="family")
    [row] = _rows(book.export_csv(by="Ada"))
    assert row["clues"] == (
        "bicycle with a standover of 20.0 in (50.8 cm), lifted (whole) 2.0 in (5.1 cm)"
    )


def test_an_empty_book_gives_the_heading(book):
    assert _rows(book.export_csv(by="Ada")) == []
