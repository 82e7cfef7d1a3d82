"""A shop's list of pairs, read, written and shown by the command."""

import json

import pytest
from typer.testing import CliRunner

from pose_fit.cli.main import app
from pose_fit.errors import InputError
from pose_fit.pairs.pair_table import pairs_csv, read_pairs

from .test_agreement import pair, pairs_of

TABLE = """child;photo_mm;photo_sd_mm;tape_1_cm;tape_2_in;care;taken_by;day;reference;legwear;touched;shop
12;604;12,5;60,2;23.6;Careful;Ada;2026-03-02;letter;snug;no;north
;580;11;55 cm;;hasty;Bo;2026-03-03;;;;
"""


def test_a_list_is_read_with_units_and_blanks(tmp_path):
    file = tmp_path / "pairs.csv"
    file.write_text(TABLE)
    first, second = read_pairs(file)
    assert (first.name, first.photo.mean_mm, first.photo.sd_mm) == ("12", 604.0, 12.5)
    assert first.readings_mm == pytest.approx((602.0, 599.44))
    assert (first.care, first.taken_by, first.day.isoformat()) == ("careful", "Ada", "2026-03-02")
    assert (first.reference, first.legwear, first.touched, first.shop) == (
        "letter",
        "snug",
        False,
        "north",
    )
    assert (second.name, second.readings_mm, second.touched) == ("line 3", (550.0,), None)


def test_what_is_written_is_read_again(tmp_path):
    pairs = [
        *pairs_of(3.0, -7.5, reference="wheel", legwear="loose", touched=True, shop="north"),
        pair(1.0, name="=1+1", care="hasty"),
    ]
    file = tmp_path / "pairs.csv"
    file.write_bytes(pairs_csv(pairs))
    again = read_pairs(file)
    assert [p.difference_mm for p in again] == pytest.approx([3.0, -7.5, 1.0])
    assert [p.expected_sd_mm for p in again] == pytest.approx([p.expected_sd_mm for p in pairs])
    assert again[0].touched
    # No spreadsheet takes it for a formula.
    assert again[2].name == "'=1+1"


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "2026-03-02",
            "2.3.2026",
            "line 2, day: wanted a day such as 2026-03-02, found '2.3.2026'",
        ),
        ("letter", "poster", "line 2, reference: wanted one of .*sheet, letter"),
        ("12,5", "0", "photo_sd_.*: wanted more than 0, found '0'"),
        ("60,2", "6,2", "line 2: a tape reading of an inseam"),
        ("Ada", "", "line 2: wanted a value for taken_by"),
        ("taken_by", "taken_bye", "did you mean 'taken_by'"),
        (";no;", ";maybe;", "wanted one of yes, no, found 'maybe'"),
    ],
)
def test_a_fault_is_named_by_its_place(tmp_path, old, new, message):
    file = tmp_path / "pairs.csv"
    file.write_text(TABLE.replace(old, new))
    with pytest.raises(InputError, match=message):
        read_pairs(file)


def test_the_command_tells_bias_coverage_correction_and_the_odd_one(tmp_path):
    file, plot = tmp_path / "pairs.csv", tmp_path / "plot.svg"
    pairs = [*pairs_of(*range(-8, 22)), pair(-180.0, name="case 9")]
    file.write_bytes(pairs_csv(pairs))
    told = CliRunner().invoke(app, ["pairs", str(file), "--plot", str(plot)])
    assert told.exit_code == 0, told.output
    assert told.stdout.startswith("In this shop, 31 children: off by 0 ± 13 mm.")
    assert "30 of 31 lie within the interval" in told.stdout
    assert "31 children measured by photo and by tape" in told.stdout
    assert (
        "case 9: the photo is 180 mm shorter than the tape, taken on 2026-03-02 by Ada"
        in told.stdout
    )
    assert plot.read_text().startswith("<svg")
    record = json.loads(CliRunner().invoke(app, ["pairs", str(file), "--json"]).stdout)
    assert record["agreement"]["count"] == 31
    assert record["correction"]["offset_mm"] > 2
    assert record["second_look"] == [{"name": "case 9", "difference_mm": -180.0}]


def test_a_missing_file_is_a_wrong_call(tmp_path):
    told = CliRunner().invoke(app, ["pairs", str(tmp_path / "none.csv")])
    assert told.exit_code == 2
    assert "cannot be read" in told.output
