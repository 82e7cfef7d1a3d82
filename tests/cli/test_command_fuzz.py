"""A small part of ``python -m calibration.fuzz``: every command, some dozens of calls each."""

import os

import pytest

from calibration.fuzz.drawn_calls import COMMANDS, run_calls

#: Those that see files have most to stumble on.
CALLS = {"measure": 40, "batch": 40, "advise": 60, "app": 10}


@pytest.mark.parametrize("command", COMMANDS)
def test_every_call_does_its_work_or_ends_in_words(command):
    home = os.getcwd()
    tally = run_calls((command,), CALLS.get(command, 30), seed=7)
    print(f"{command}: {tally.ends.total()} calls, {dict(tally.ends)}")
    assert not tally.faults, "\n".join(tally.faults)
    assert tally.ends.total() >= 10
    assert len(tally.ends) > 1, "wanted calls that end in different ways"
    assert os.getcwd() == home
