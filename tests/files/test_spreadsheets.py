"""Tables as spreadsheets write and read them: BOM, semicolons, decimal commas, formulas, length."""

import csv
import io
import itertools
import json
import os

import pytest
from typer.testing import CliRunner

from pose_fit.bicycle.catalogue import parse_catalogue, read_catalogue
from pose_fit.cli.main import app
from pose_fit.errors import CatalogueError
from pose_fit.files.csv_export import safe_cell

MANY = 50_000
#: The same three bicycles as spreadsheets of different countries write them.
POINTS = "name,tyre,standover_in,seat_tube_angle_deg\nPipwren 20,47-406,19.5,71.5\n"
COMMAS = "name;tyre;standover_in;seat_tube_angle_deg\nPipwren 20;47-406;19,5;71,5\n"
TABS = "name\ttyre\tstandover_in\tseat_tube_angle_deg\nPipwren 20\t47-406\t19,5\t71,5\n"


@pytest.mark.parametrize("text", [POINTS, COMMAS, TABS], ids=["points", "commas", "tabs"])
@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_spreadsheets_of_every_country_say_the_same(tmp_path, text, coding, end):
    path = tmp_path / "Räder 自転車.csv"
    path.write_bytes(text.replace("\n", end).encode(coding))
    (bicycle,) = read_catalogue(path)
    assert bicycle.name == "Pipwren 20"
    assert bicycle.standover_mm == pytest.approx(495.3)  # 19.5 in of 25.4 mm
    assert bicycle.seat_tube_angle_rad == pytest.approx(1.2479104)  # 71.5 degrees


@pytest.mark.parametrize("coding", ["utf-16", "latin-1"])
def test_other_codings_are_told(tmp_path, coding):
    path = tmp_path / "bikes.csv"
    path.write_bytes(POINTS.replace("Pipwren", "Grünling").encode(coding))
    result = CliRunner().invoke(app, ["advise", "--inseam", "25in", "--bikes", str(path)])
    assert result.exit_code == 2
    assert "save the table as “CSV UTF-8”" in result.stderr


@pytest.mark.parametrize("head", [b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"])
def test_a_workbook_is_no_table_yet(tmp_path, head):
    path = tmp_path / "bikes.xlsx"
    path.write_bytes(head + b"name,tyre,standover_mm")
    result = CliRunner().invoke(app, ["advise", "--inseam", "25in", "--bikes", str(path)])
    assert result.exit_code == 2
    assert "is a spreadsheet’s workbook; save the table as “CSV UTF-8”" in result.stderr


def test_columns_that_are_not_read_are_told(tmp_path):
    """A stock list's own columns are its own business; one that was meant for us must not be lost."""
    path = tmp_path / "bikes.csv"
    path.write_text("name;tyre;Standover cm;Colour;stock\nPipwren;47-406;49,5;red;no\n", "utf-8")
    words = ["advise", "--inseam", "22in", "--bikes", str(path)]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 0
    assert result.stderr == f"pose-fit: {path}: columns not used: Colour, stock\n"
    path.write_text("name;tyre;Standover cm\nPipwren;47-406;49,5\n", "utf-8")
    assert CliRunner().invoke(app, words).stderr == ""


def test_a_long_list_of_columns_not_read_is_counted(tmp_path):
    headers = ",".join(f"own {number}" for number in range(12))
    path = tmp_path / "bikes.csv"
    path.write_text(f"name,tyre,standover_mm,{headers}\nPipwren,47-406,495\n", "utf-8")
    result = CliRunner().invoke(app, ["advise", "--inseam", "22in", "--bikes", str(path)])
    assert result.stderr.endswith("own 6, own 7 and 4 more\n")


def long_table(count: int) -> list[str]:
    rows = (f"Pipwren {row};47-406;{450 + row % 200},5" for row in range(count))
    return ["\ufeffname;tyre;standover_mm", *rows]


def test_fifty_thousand_bicycles_are_read_and_judged(tmp_path):
    path = tmp_path / "stock.csv"
    path.write_text("\r\n".join(long_table(MANY)), encoding="utf-8", newline="")
    bicycles = read_catalogue(path)
    assert len(bicycles) == MANY
    assert bicycles[-1].name == f"Pipwren {MANY - 1}"
    assert bicycles[-1].standover_mm == 450.5 + (MANY - 1) % 200
    words = [
        "advise",
        "--inseam",
        "560mm",
        "--sd",
        "1mm",
        "--riding-soles",
        "0",
        "--bikes",
        str(path),
    ]
    result = CliRunner().invoke(app, [*words, "--json"], catch_exceptions=False)
    assert result.exit_code == 0
    fits = json.loads(result.stdout)["fits"]
    assert len(fits) == MANY
    for fit in fits:
        standover_mm = 450.5 + int(fit["name"].removeprefix("Pipwren ")) % 200
        # An unknown source leaves a few millimetres of doubt; 20 are beyond it.
        if abs(standover_mm - 560) > 20:
            assert (fit["verdict"] == "contact") == (standover_mm > 560), fit


@pytest.mark.parametrize("spelling", ["Pipwren 7", "PIPWREN 7", "  pipwren 7 "])
def test_a_name_given_twice_is_found_at_the_other_end_of_a_long_table(spelling):
    table = [*long_table(3000), f"{spelling};47-406;500"]
    with pytest.raises(CatalogueError) as caught:
        parse_catalogue("\n".join(table), source="stock.csv")
    assert "line 3002, column name: wanted each name once" in str(caught.value)
    assert "also in line 9" in str(caught.value)


FORMULAS = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    '=HYPERLINK("http://x.example")',
    "＝1",
    ' "=1"',
    "Pipwren;=1+1",
)


@pytest.mark.parametrize("name", FORMULAS)
def test_a_name_like_a_formula_is_read_as_text_and_leaves_as_text(name):
    quoted = io.StringIO()
    csv.writer(quoted).writerows([("name", "tyre", "standover_mm"), (name, "47-406", 500)])
    bicycles = parse_catalogue(quoted.getvalue(), source="stock.csv")
    assert bicycles[0].name == name.strip()
    told = io.StringIO()
    csv.writer(told).writerow([safe_cell(bicycles[0].name)])
    # Whichever separator the family's spreadsheet takes, no cell begins a formula.
    for separator in ",;\t":
        for cell in itertools.chain(*csv.reader(io.StringIO(told.getvalue()), delimiter=separator)):
            assert not cell.lstrip(' "').startswith(("=", "+", "-", "@", "＝", "\t", "\r"))


def test_a_table_without_end_is_not_read_to_its_end(tmp_path):
    long = tmp_path / "long.csv"
    with long.open("wb") as file:
        file.truncate(10_000_000_000)
    with pytest.raises(CatalogueError, match="wanted at most 64 megabytes"):
        read_catalogue(long)


def test_what_is_no_file_is_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.csv")
    for path in (tmp_path / "pipe.csv", tmp_path, "/dev/zero"):
        with pytest.raises(CatalogueError, match=r"wanted a file|cannot be read"):
            read_catalogue(path)


@pytest.mark.parametrize(
    "words",
    [
        ("batch", "x" * 300, "--reference", "sheet", "--out", "new.csv"),
        ("batch", "{folder}", "--reference", "sheet", "--out", "x" * 300),
        ("batch", "{folder}", "--reference", "sheet", "--out", "{long}"),
        ("advise", "--inseam", "25in", "--bikes", "x" * 300),
    ],
)
def test_paths_and_cells_far_too_long_are_told(tmp_path, words):
    """A cell beyond the reader's limit of 131,072 letters; a name beyond the file system's."""
    (tmp_path / "one.jpg").write_bytes(b"")
    (tmp_path / "long.csv").write_text("x" * 200_000)
    places = {"folder": str(tmp_path), "long": str(tmp_path / "long.csv")}
    result = CliRunner().invoke(
        app, [word.format(**places) for word in words], catch_exceptions=False
    )
    assert result.exit_code == 2
    assert result.stderr.startswith("pose-fit: ")


def test_a_photo_whose_name_no_file_can_have_fails_in_its_own_row(tmp_path):
    photos, table = tmp_path / "list.csv", tmp_path / "table.csv"
    photos.write_bytes(b"photo\nnul\0.jpg\n" + b"x" * 300 + b".jpg\n")
    words = ["batch", str(photos), "--reference", "sheet", "--workers", "1", "--out", str(table)]
    for _ in range(2):
        result = CliRunner().invoke(app, words, catch_exceptions=False)
        assert result.exit_code == 3
        rows = list(csv.DictReader(io.StringIO(table.read_text("utf-8-sig"), newline="")))
        assert [row["status"] for row in rows] == ["failed", "failed"]
        assert "unexpected" not in table.read_text("utf-8-sig")
