"""Several people on one case at the same time lose nothing."""

import json
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case, CaseContent
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.conflict import CaseConflict
from pose_fit.casebook.decision import Accepted, Overridden
from pose_fit.casebook.events import (
    Action,
    ClueAdded,
    DetailsCorrected,
    Draft,
    PhotoReceived,
    Received,
)
from pose_fit.errors import CaseBookError
from pose_fit.inseam.inseam import Inseam

OTHER = Inseam.stated(570.0, 9.0)


def test_a_stale_change_is_refused_and_both_peoples_work_survives(book, content, clock):
    seen = book.receive(content, by="family")
    first = book.act(seen, Accepted("fine"), by="Ada")
    second = Overridden(560.0, 8.0, "measured here")
    with pytest.raises(CaseConflict, match="version 1 was at hand, version 2") as caught:
        book.act(seen, second, by="Bo")
    assert caught.value.newer == first == book.case(seen.case_id)
    draft = book.draft(seen.case_id, by="Bo")
    assert draft == caught.value.draft
    assert (draft.action, draft.based_on, draft.kept_at) == (second, 1, clock.now)
    assert [event.by for event in book.history(seen.case_id)] == ["family", "Ada"]
    decided = book.act(caught.value.newer, draft.action, by="Bo")
    assert (decided.version, decided.state) == (3, "overridden")
    assert book.draft(seen.case_id, by="Bo") is None


def _too_late(book: CaseBook, case: Case, action: Action, *, by: str) -> Draft:
    with pytest.raises(CaseConflict) as caught:
        book.act(case, action, by=by)
    return caught.value.draft


def test_a_draft_outlives_the_program(where, content):
    with CaseBook(where) as book:
        case = book.receive(content, by="family")
        book.act(case, Accepted("fine"), by="Ada")
        kept = _too_late(book, case, Overridden(560.0, 8.0, "half a thought"), by="Bo")
    with CaseBook(where) as book:
        assert book.draft(case.case_id, by="Bo") == kept
        assert book.draft(case.case_id, by="Ada") is None
        _too_late(book, case, Accepted("whole thought"), by="Bo")
        assert book.draft(case.case_id, by="Bo").action == Accepted("whole thought")
        book.drop_draft(case.case_id, by="Bo")
        assert book.draft(case.case_id, by="Bo") is None


def test_the_family_never_meets_a_conflict_staff_do(book, content):
    seen = book.receive(content, by="family")
    book.receive_photo(seen.reply_code, PhotoReceived(OTHER), by="family")
    with pytest.raises(CaseConflict) as caught:
        book.act(seen, Accepted(), by="Ada")
    assert caught.value.newer.content.estimate == OTHER


def test_a_deleted_case_takes_no_change_and_no_draft(book, content):
    seen = book.receive(content, by="family")
    book.delete(seen.case_id, by="Ada")
    with pytest.raises(CaseBookError, match="deleted"):
        book.act(seen, Accepted("Zoë is tall"), by="Bo")
    assert book.draft(seen.case_id, by="Bo") is None


def _insist(book: CaseBook, case_id: int, remark: str, *, by: str) -> int:
    """Add a remark, again on the newer case after each conflict; how many conflicts."""
    case, conflicts = book.case(case_id), 0
    while True:
        try:
            book.act(case, ClueAdded(RemarkClue(text=remark), case.content.estimate), by=by)
            return conflicts
        except CaseConflict as conflict:
            case, conflicts = conflict.newer, conflicts + 1


def test_two_writers_in_step_exactly_one_wins_each_round(where, content):
    """Two threads with a book each read the same version, then write at once."""
    rounds = 15
    with CaseBook(where) as ours, CaseBook(where) as theirs:
        case_id = ours.receive(CaseContent(estimate=content.estimate), by="family").case_id
        together = Barrier(2)

        def write(book: CaseBook, who: str) -> list[str]:
            outcomes = []
            for number in range(rounds):
                case = book.case(case_id)
                together.wait(timeout=30)
                try:
                    book.act(case, DetailsCorrected(f"{who} {number}", Child()), by=who)
                    outcomes.append("won")
                except CaseConflict as conflict:
                    kept = conflict.draft.action.label == f"{who} {number}"
                    outcomes.append("draft kept" if kept else "lost")
                together.wait(timeout=30)
            return outcomes

        with ThreadPoolExecutor(2) as pool:
            writers = [pool.submit(write, ours, "Ada"), pool.submit(write, theirs, "Bo")]
            ada, bo = (writer.result(timeout=120) for writer in writers)
        assert {tuple(sorted(pair)) for pair in zip(ada, bo, strict=True)} == {
            ("draft kept", "won")
        }
        assert ours.case(case_id).version == 1 + rounds
        history = ours.history(case_id)
        assert [event.version for event in history] == list(range(1, rounds + 2))
        winners = ["Ada" if outcome == "won" else "Bo" for outcome in ada]
        assert [event.by for event in history[1:]] == winners
        assert [event.what.label for event in history[1:]] == [
            f"{who} {number}" for number, who in enumerate(winners)
        ]


def test_many_threads_on_one_book_lose_no_remark(book, content):
    case_id = book.receive(CaseContent(estimate=content.estimate), by="family").case_id
    remarks = [f"remark {number}" for number in range(24)]
    with ThreadPoolExecutor(6) as pool:
        writers = [
            pool.submit(_insist, book, case_id, remark, by=f"writer {number % 6}")
            for number, remark in enumerate(remarks)
        ]
        for writer in writers:
            writer.result(timeout=120)
    case = book.case(case_id)
    assert sorted(clue.text for clue in case.content.clues) == sorted(remarks)
    assert case.version == 1 + len(remarks)


_PROGRAM = """
import json, sys
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.events import ClueAdded
from pose_fit.casebook.conflict import CaseConflict

where, case_id, who = sys.argv[1], int(sys.argv[2]), sys.argv[3]
with CaseBook(where) as book:
    print("ready", flush=True)
    sys.stdin.readline()
    case, conflicts = book.case(case_id), 0
    for number in range(40):
        while True:
            remark = ClueAdded(RemarkClue(text=f"{who} {number}"), case.content.estimate)
            try:
                case = book.act(case, remark, by=who)
                break
            except CaseConflict as conflict:
                case, conflicts = conflict.newer, conflicts + 1
    print(json.dumps(conflicts))
"""


def test_two_programs_at_once_lose_no_remark(where, content):
    with CaseBook(where) as book:
        case_id = book.receive(CaseContent(estimate=content.estimate), by="family").case_id
    programs = [
        subprocess.Popen(
            [sys.executable, "-c", _PROGRAM, where, str(case_id), who],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for who in ("Ada", "Bo")
    ]
    for program in programs:
        assert program.stdout.readline() == "ready\n"
    for program in programs:
        program.stdin.write("\n")
        program.stdin.flush()
    conflicts = [json.loads(program.communicate(timeout=120)[0]) for program in programs]
    assert [program.returncode for program in programs] == [0, 0]
    with CaseBook(where) as book:
        case = book.case(case_id)
        wanted = {f"{who} {number}" for who in ("Ada", "Bo") for number in range(40)}
        assert {clue.text for clue in case.content.clues} == wanted
        assert len(case.content.clues) == 80
        assert (case.version, book.history(case_id)[0].what) == (81, Received(content.estimate))
    # Reading and writing in step they are bound to meet; if not, this test has shown nothing.
    assert sum(conflicts) > 0
