"""Jobs are done elsewhere, in turn, also where a process is killed; and no process stays behind."""

import math
import os
import pickle
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError
from pathlib import Path

import pytest

from pose_fit.errors import LengthError, WorkStoppedError
from pose_fit.metrology.units import parse_length_mm
from pose_fit.task.facts import FactError
from pose_fit.task.typed import child_of
from pose_fit.workers.worker_pool import WorkerPool
from tests.workers.lost_answers import ReadNowhere, lose

WAIT_S = 30


@pytest.fixture
def pool() -> Iterator[WorkerPool]:
    pool = WorkerPool(1, limit_s=20)
    yield pool
    pool.close()
    assert not pool.pids


def until(is_so: Callable[[], object]) -> None:
    end_s = time.monotonic() + WAIT_S
    while not is_so():
        assert time.monotonic() < end_s, "waited in vain"
        time.sleep(0.02)


def note(order: Path, words: str) -> str:
    """A command that writes a line."""
    return f"echo {words} >> {order}"


def then_wait_for(file: Path) -> str:
    """The rest of a command that ends once there is this file."""
    return f"; while [ ! -e {file} ]; do sleep 0.02; done"


def lives(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except FileNotFoundError:
        return False
    return state != "Z"


def test_a_job_is_done_in_another_process(pool):
    assert pool.submit("me", math.factorial, 20).future.result(WAIT_S) == math.factorial(20)
    assert pool.submit("me", os.getpid).future.result(WAIT_S) in pool.pids
    assert pool.pids != (os.getpid(),)


def test_what_is_raised_there_is_raised_here_with_its_trace(pool):
    job = pool.submit("me", parse_length_mm, "a mile or so")
    with pytest.raises(LengthError) as found:
        job.future.result(WAIT_S)
    assert "units.py" in found.value.__notes__[0]


def test_an_error_that_cannot_be_made_again_is_told_in_words(pool):
    with pytest.raises(RuntimeError, match="UnreadableError: the reason"):
        pool.submit("me", lose).future.result(WAIT_S)
    assert pool.submit("me", math.sqrt, 4).future.result(WAIT_S) == 2


def test_an_answer_that_cannot_be_read_is_a_fault_and_no_end(pool):
    with pytest.raises(ValueError, match="made in another process"):
        pool.submit("me", ReadNowhere).future.result(WAIT_S)
    assert pool.submit("me", math.sqrt, 4).future.result(WAIT_S) == 2


def test_what_is_wrong_with_a_fact_comes_back_from_a_worker(pool):
    with pytest.raises(FactError, match="wanted an age") as found:
        pool.submit("me", child_of, {"age": "old"}).future.result(WAIT_S)
    assert found.value.fact == "age"


def test_a_function_that_the_worker_cannot_find_is_a_fault_and_no_end(pool, monkeypatch):
    monkeypatch.setattr(test_helper, "__module__", "no_such_module")
    monkeypatch.setitem(sys.modules, "no_such_module", sys.modules[__name__])
    with pytest.raises(ModuleNotFoundError):
        pool.submit("me", test_helper).future.result(WAIT_S)
    assert pool.submit("me", math.sqrt, 4).future.result(WAIT_S) == 2


def test_helper() -> None:
    """Something that can be pickled by its name."""


def test_one_picture_is_next_after_the_one_in_hand_of_a_visit_with_twenty(pool, tmp_path):
    order, go_on = tmp_path / "order", tmp_path / "go_on"
    held = note(order, "many 0") + then_wait_for(go_on)
    rest = [note(order, f"many {n}") for n in range(1, 20)]
    many = [pool.submit("many", os.system, command) for command in (held, *rest)]
    until(lambda: many[0].future.running())
    one = pool.submit("one", os.system, note(order, "one"))
    assert pool.ahead(one) == 1
    assert pool.ahead(many[19]) == 19
    assert pool.ahead(many[0]) == 0
    go_on.touch()
    many[19].future.result(WAIT_S)
    assert order.read_text().splitlines()[:2] == ["many 0", "one"]
    assert order.read_text().count("many") == 20


def test_several_workers_share_the_work(tmp_path):
    """Each job waits for the other one's file, so that neither ends alone."""
    pool = WorkerPool(2)
    mine, other = tmp_path / "mine", tmp_path / "other"
    jobs = [
        pool.submit("me", os.system, f"touch {made}{then_wait_for(awaited)}")
        for made, awaited in ((mine, other), (other, mine))
    ]
    for job in jobs:
        job.future.result(WAIT_S)
    pool.close()


def test_a_place_given_away_is_not_served_and_others_move_up(pool, tmp_path):
    order, go_on = tmp_path / "order", tmp_path / "go_on"
    first = pool.submit("first", os.system, note(order, "first") + then_wait_for(go_on))
    until(lambda: first.future.running())
    gone = pool.submit("gone", os.system, note(order, "gone"))
    last = pool.submit("last", os.system, note(order, "last"))
    assert pool.ahead(last) == 2
    assert gone.future.cancel()
    assert pool.ahead(last) == 1
    go_on.touch()
    last.future.result(WAIT_S)
    assert order.read_text().splitlines() == ["first", "last"]
    with pytest.raises(CancelledError):
        gone.future.result(WAIT_S)


def test_a_killed_worker_is_replaced_and_its_job_done_again(pool, tmp_path):
    order, go_on = tmp_path / "order", tmp_path / "go_on"
    job = pool.submit("me", os.system, note(order, "done") + then_wait_for(go_on))
    until(order.exists)
    (killed,) = pool.pids
    os.kill(killed, signal.SIGKILL)
    until(lambda: order.read_text().count("done") == 2)
    go_on.touch()
    job.future.result(WAIT_S)
    assert order.read_text().splitlines() == ["done", "done"]
    assert killed not in pool.pids
    assert len(pool.pids) == 1


def test_a_worker_killed_while_it_waits_costs_nothing(pool):
    pool.submit("me", math.sqrt, 4).future.result(WAIT_S)
    (killed,) = pool.pids
    os.kill(killed, signal.SIGKILL)
    until(lambda: not lives(killed))
    assert pool.submit("me", math.sqrt, 9).future.result(WAIT_S) == 3


@pytest.mark.parametrize(("work", "argument"), [(os._exit, 3), (bytearray, 1 << 60)])
def test_a_job_that_ends_its_worker_twice_is_given_up_and_the_next_is_done(pool, work, argument):
    after = pool.submit("me", work, argument), pool.submit("other", math.sqrt, 4)
    with pytest.raises(WorkStoppedError, match="twice"):
        after[0].future.result(WAIT_S)
    assert after[1].future.result(WAIT_S) == 2


def test_a_job_that_hangs_is_given_up():
    pool = WorkerPool(1, limit_s=1.0)
    with pytest.raises(WorkStoppedError):
        pool.submit("me", time.sleep, 600).future.result(WAIT_S)
    assert pool.submit("me", math.sqrt, 4).future.result(WAIT_S) == 2
    pool.close()


@pytest.mark.parametrize("ended_by", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_no_worker_outlives_the_process_that_asked_also_not_a_busy_one(ended_by):
    program = (
        "import time\n"
        "from pose_fit.workers.worker_pool import WorkerPool\n"
        "pool = WorkerPool(2)\n"
        "jobs = [pool.submit('me', time.sleep, 60) for _ in range(1)]\n"
        "while len(pool.pids) < 2 or not jobs[0].future.running(): time.sleep(0.02)\n"
        "print(*pool.pids, flush=True)\n"
        "time.sleep(60)\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", program],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as asker:
        assert asker.stdout is not None
        pids = [int(word) for word in asker.stdout.readline().split()]
        assert len(pids) == 2
        assert all(lives(pid) for pid in pids)
        asker.send_signal(ended_by)
    until(lambda: not any(lives(pid) for pid in pids))


def test_an_answer_that_nobody_is_left_to_read_is_no_fault(tmp_path):
    job = pickle.dumps((bytes, (10_000_000,)))
    with (tmp_path / "log").open("w") as log:
        worker = subprocess.Popen(
            [sys.executable, "-m", "pose_fit.workers.worker"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=log,
        )
        assert worker.stdin is not None
        assert worker.stdout is not None
        # The reader goes first: the input stays open, so only the answer tells that nobody is left.
        worker.stdout.close()
        pickle.dump(job, worker.stdin)
        worker.stdin.flush()
        assert worker.wait(WAIT_S) == 0
        worker.stdin.close()
    assert (tmp_path / "log").read_text() == ""
