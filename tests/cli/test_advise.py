"""``pose-fit advise`` as a family, a shop or a program uses it: what they type, and what comes back."""

import json

import pytest
from typer.testing import CliRunner, Result

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import EXIT_REFUSED, app
from pose_fit.report.json_keys import ANSWER_KEYS, FIT_KEYS, PHOTO_KEYS

BIKES = ("--bikes", DEMO_CATALOGUE)


def run(*words: object) -> Result:
    return CliRunner().invoke(app, ["advise", *map(str, words), *map(str, BIKES)])


@pytest.mark.parametrize(
    "words", [("--inseam", "25in"), ("--trousers", "23in"), ("--stature", "50in"), ("--age", "7")]
)
def test_a_program_finds_every_key_as_with_a_photo(words: tuple[str, ...]) -> None:
    told = json.loads(run(*words, "--json").stdout)
    assert set(told) == {*PHOTO_KEYS, *ANSWER_KEYS}
    assert (told["status"], told["photo"], told["reasons"]) == ("measured", None, [])
    assert {key for fit in told["fits"] for key in fit} == set(FIT_KEYS)
    refused = json.loads(run("--inseam", "25in", "--age", "3", "--json").stdout)
    assert set(refused) == set(PHOTO_KEYS)


@pytest.mark.parametrize(
    ("words", "is_sent_to_a_tape"),
    [
        (("--inseam", "25.5in", "--age", "3"), False),
        (("--inseam", "25.5in", "--sd", "6mm", "--age", "3"), False),
        (("--trousers", "24in", "--age", "3"), True),
    ],
)
def test_nobody_with_a_tape_in_hand_is_sent_to_a_tape(
    words: tuple[str, ...], is_sent_to_a_tape: bool
) -> None:
    result = run(*words)
    assert result.exit_code == EXIT_REFUSED
    assert ("Or use a tape" in result.stdout) == is_sent_to_a_tape
