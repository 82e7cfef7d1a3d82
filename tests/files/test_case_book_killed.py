"""A case book whose writer is killed keeps every case that it said it has."""

import signal
import subprocess
import sys

from pose_fit.casebook.book import CaseBook

from .commands import ROOT

#: Receives cases without end, and says each number after the book has taken it.
WRITER = """
import sys
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent
from pose_fit.inseam.inseam import Inseam
with CaseBook(sys.argv[1]) as book:
    while True:
        case = book.receive(CaseContent(estimate=Inseam.stated(570.0, 9.0), label="x" * 200), by="f")
        print(case.case_id, flush=True)
"""


def test_every_case_that_was_acknowledged_is_there_after_a_kill(tmp_path):
    place = tmp_path / "book.db"
    said = []
    # Killed at different moments of the writing, since nobody can choose one.
    for lines in (1, 2, 7, 20):
        with subprocess.Popen(
            [sys.executable, "-c", WRITER, place], stdout=subprocess.PIPE, text=True, cwd=ROOT
        ) as writer:
            assert writer.stdout is not None
            said += [int(writer.stdout.readline()) for _ in range(lines)]
            writer.send_signal(signal.SIGKILL)
            said += [int(line) for line in writer.stdout if line.endswith("\n")]
        assert writer.returncode == -signal.SIGKILL
        with CaseBook(place) as book:
            found = [case.case_id for case in book.find(limit=10_000)]
            # At most one case was taken and not said any more.
            assert set(said) <= set(found)
            assert len(found) - len(said) <= 4
            assert all(len(book.history(number)) == 1 for number in found)
