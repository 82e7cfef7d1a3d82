"""``pose-fit pairs`` as a program reads it."""

import json
import re
from pathlib import Path

from typer.testing import CliRunner

from pose_fit.cli.main import app
from pose_fit.report.json_keys import GROUP_KEYS, PAIRS_KEYS

PAIRS = """child,photo_mm,photo_sd_mm,tape_1_mm,tape_2_mm,taken_by,day
1,600,15,590,592,Ann,2026-01-02
2,650,16,641,,Ann,2026-01-03
3,552,15,560,561,Bo,2026-01-04
"""


def test_every_key_is_in_the_help_and_no_other_and_no_digit_is_made_up(tmp_path: Path) -> None:
    table = tmp_path / "pairs.csv"
    table.write_text(PAIRS, "utf-8")
    line = CliRunner().invoke(app, ["pairs", str(table), "--json"]).stdout
    told = json.loads(line)
    assert set(told) == set(PAIRS_KEYS)
    for group in (told["agreement"], *told["groups"]):
        assert set(group) == set(GROUP_KEYS)
    assert not re.search(r"\.\d{3}", line)
    help_text = CliRunner().invoke(app, ["pairs", "--help"]).stdout
    assert all(f"  {key} " in help_text for key in {**PAIRS_KEYS, **GROUP_KEYS})
