"""A file that is locked is one process's alone until it is closed."""

import pytest

from pose_fit.files.file_lock import lock_alone

from .commands import child

HOLDER = """
import sys
from pose_fit.files.file_lock import lock_alone
lock_alone(open(sys.argv[1], "a+b"))
"""


def test_another_process_is_turned_away_until_the_file_is_closed(tmp_path):
    place = tmp_path / "table"
    with open(place, "a+b") as file:
        lock_alone(file)
        assert "BlockingIOError" in child(HOLDER, place).stderr
        with open(place, "a+b") as again, pytest.raises(BlockingIOError):
            lock_alone(again)
        file.write(b"written all the same")
    assert place.read_bytes() == b"written all the same"
    with open(place, "a+b") as file:
        lock_alone(file)
