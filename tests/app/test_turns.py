"""Pages wait in turn for worker processes, say who is ahead, and give up what nobody waits for."""

import contextlib
import datetime as dt
import io
import os
import re
import signal
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.uploads import samples
from pose_fit.app.question import Question
from pose_fit.app.turns import Turns, worker_count
from pose_fit.app.worker_jobs import Looked, draw, find_body, measure, open_upload, warm_up
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.drawing.drawing_texts import ENGLISH
from pose_fit.errors import InputError, PhotoFileError
from pose_fit.measure import PhotoMeasurement, is_about_heels_alone, measure_photo
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from pose_fit.workers.worker_pool import WorkerPool

from .served_app import ServedApp, served_app
from .socket_visitor import SocketVisitor

CHOOSE = "Take or choose pictures"
AHEAD = re.compile(r"(\d+) pictures? (?:is|are) ahead of yours")
SAMPLES = {sample.path.stem: sample for sample in samples()}


@pytest.mark.parametrize("told", ["", " "])
def test_one_core_is_left_to_the_pages(monkeypatch, told):
    for cores, count in ((1, 1), (2, 1), (8, 7), (None, 1)):
        monkeypatch.setattr(os, "cpu_count", lambda cores=cores: cores)
        assert worker_count(told) == count


def test_as_many_workers_as_were_told():
    assert worker_count(" 3 ") == 3
    for told in ("0", "-1", "two", "1.5"):
        with pytest.raises(InputError, match=f"POSE_FIT_WORKERS: wanted .* found '{told}'"):
            worker_count(told)


def test_a_worker_gives_what_this_process_gives():
    pool = WorkerPool(1, warm=warm_up)
    for name in ("sheet_1", "a4_1"):
        data = SAMPLES[name].path.read_bytes()
        task = PhotoTask(ReferenceRequest("auto"), Stated(heels_down=True))
        (opened,) = open_upload(name, data, 3)
        (sent,) = pool.submit("me", open_upload, name, data, 3).future.result(60)
        same(opened, sent)
        here, there = opened.photo, sent.photo
        ours = measure(Looked(here, None, was_looked_at=False), task)
        asked = Looked(there, None, was_looked_at=False)
        theirs = pool.submit("me", measure, asked, task).future.result(60)
        same(ours, theirs)
        again = Looked(there, theirs[0], was_looked_at=True)
        same(ours, pool.submit("me", measure, again, task).future.result(60))
        drawn = draw(Looked(here, ours[0], True), whole(ours[1], here), "in", ENGLISH)
        job = pool.submit("me", draw, again, whole(theirs[1], there), "in", ENGLISH)
        same(drawn, job.future.result(60))
    assert isinstance(ours[1], PhotoMeasurement) or not ours[1]
    pool.close()


def whole(result: Any, photo: Photo) -> Any:
    """With the photo that workers leave out."""
    return replace(result, photo=photo) if isinstance(result, PhotoMeasurement) else result


@pytest.mark.parametrize("name", ["sheet_1", "sheet_3", "a4_1"])
def test_a_picture_measured_while_it_is_opened_gives_the_same(name):
    data = SAMPLES[name].path.read_bytes()
    child = Child(age_y=6.0, stature_mm=1150.0)
    question = Question(ReferenceRequest("auto"), Stated(), child, dt.date.today())
    (opened,) = open_upload(name, data, 3, question)
    photo, pose = read_photo(data, name=name), BodyOnce(pose_model())
    task = question.task(photo)
    first = measure_photo(photo, task, pose=pose)
    wanted = [(task, first)]
    if is_about_heels_alone(first):
        task = replace(task, stated=replace(task.stated, heels_down=True))
        wanted.append((task, measure_photo(photo, task, pose=pose)))
    assert len(opened.answers) == len(wanted)
    for (asked, result), (told, expected) in zip(opened.answers, wanted, strict=True):
        assert asked == told
        same(whole(result, photo), expected)
    same(opened.body, pose.find(photo))
    # As large as a third of the photo, and worked out again where it is wanted.
    assert "grey" not in vars(opened.photo)


def test_faces_found_once_are_hidden_again_without_a_look(monkeypatch):
    (opened,) = open_upload("one", SAMPLES["sheet_3"].path.read_bytes(), 3)
    looked = Looked(opened.photo, find_body(opened.photo), was_looked_at=True)
    task = PhotoTask(ReferenceRequest("auto"), Stated(heels_down=True))
    result = whole(measure(looked, task)[1], opened.photo)
    first = draw(looked, result, "in", ENGLISH)
    assert first.faces
    monkeypatch.setattr("pose_fit.app.worker_jobs.shown_faces", None)
    same(first, draw(looked, result, "in", ENGLISH, first.faces))


def same(one: Any, other: Any) -> None:
    """Equal in every field; numbers to the last digits.

    One picture measured twice differs by some 1e-15: where an array begins in memory decides in
    which order its numbers are added.
    """
    assert type(one) is type(other)
    if isinstance(one, np.ndarray):
        np.testing.assert_allclose(one, other, rtol=1e-9, atol=1e-9)
    elif isinstance(one, float):
        assert one == pytest.approx(other, rel=1e-11, abs=1e-11, nan_ok=True)
    elif is_dataclass(one):
        for field in fields(one):
            same(getattr(one, field.name), getattr(other, field.name))
    elif isinstance(one, (tuple, list)):
        assert len(one) == len(other)
        for pair in zip(one, other, strict=True):
            same(*pair)
    elif isinstance(one, dict):
        assert list(one) == list(other)
        same(list(one.values()), list(other.values()))
    else:
        assert one == other or one is other or one != one


def test_a_bad_file_is_told_by_the_worker_as_here():
    pool = WorkerPool(1)
    with pytest.raises(PhotoFileError, match=r"^mine: not a picture"):
        pool.submit("me", open_upload, "mine", b"no picture", 3).future.result(60)
    pool.close()


def test_who_leaves_gives_every_place_away(monkeypatch):
    pool = WorkerPool(1)
    monkeypatch.setattr("pose_fit.app.turns.workers", lambda: pool)
    with contextlib.suppress(KeyError), Turns() as turns:
        first = turns.submit(time.sleep, 0.5)
        others = [turns.submit(time.sleep, 60) for _ in range(3)]
        turns.outcome(first)
        raise KeyError
    stranger = pool.submit("stranger", time.sleep, 0)
    assert all(job.future.cancelled() for job in others[1:])
    assert pool.ahead(stranger) <= 1
    pool.close()


@pytest.fixture(scope="module")
def app() -> Iterator[ServedApp]:
    with served_app({"POSE_FIT_WORKERS": "1"}) as app:
        yield app


@pytest.fixture(scope="module")
def many() -> dict[str, bytes]:
    """Six pictures, each another file."""
    files = {}
    with Image.open(SAMPLES["a4_1"].path) as image:
        for number in range(6):
            buffer = io.BytesIO()
            image.save(buffer, "JPEG", quality=80 + number, exif=image.getexif())
            files[f"many-{number}.jpg"] = buffer.getvalue()
    return files


def test_one_picture_is_answered_while_many_of_another_visitor_wait_and_is_told_who_is_ahead(
    app, many
):
    answered: dict[str, float] = {}

    def bring_many(visitor: SocketVisitor) -> None:
        visitor.upload_all(CHOOSE, many)
        answered["many"] = time.monotonic()

    with SocketVisitor(app.port) as one, SocketVisitor(app.port) as other:
        crowd = threading.Thread(target=bring_many, args=(other,))
        crowd.start()
        until(lambda: is_measuring(other))
        one.upload(CHOOSE, "one.jpg", SAMPLES["letter_1"].path.read_bytes())
        answered["one"] = time.monotonic()
        told = [int(found) for said in one.told for found in AHEAD.findall(said)]
        crowd.join()
    assert told
    # Never the whole crowd: the one in hand, and at most one more that came in the same round.
    assert max(told) <= 2
    assert answered["one"] < answered["many"]


def test_who_leaves_holds_nobody_up(app, many):
    with SocketVisitor(app.port) as gone:
        gone.upload_all(CHOOSE, many, wait=False)
        gone.read(is_measuring)
    with SocketVisitor(app.port) as visitor:
        visitor.upload(CHOOSE, "one.jpg", SAMPLES["letter_1"].path.read_bytes())
        told = [int(found) for said in visitor.told for found in AHEAD.findall(said)]
    assert max(told, default=0) <= 1


def test_a_killed_worker_costs_a_moment_and_one_killed_for_ever_a_plain_word(app, many):
    names = iter(many)
    with SocketVisitor(app.port) as visitor:
        name = next(names)
        visitor.upload_all(CHOOSE, {name: many[name]}, wait=False)
        visitor.read(is_measuring)
        for pid in workers_of(app.pid):
            os.kill(pid, signal.SIGKILL)
        visitor.read()
        assert not visitor.errors
        assert "pf-answer" in visitor.text or "Were both heels" in visitor.text
    over = threading.Event()
    killer = threading.Thread(target=kill_all, args=(app.pid, over))
    with SocketVisitor(app.port) as visitor:
        killer.start()
        name = next(names)
        visitor.upload(CHOOSE, name, many[name])
        over.set()
        killer.join()
        assert "stopped at this picture, twice" in visitor.text
        # The next picture finds a new worker.
        visitor.upload(CHOOSE, "one.jpg", SAMPLES["letter_1"].path.read_bytes())
        assert not visitor.errors
        assert "pf-answer" in visitor.text or "Were both heels" in visitor.text


def is_measuring(visitor: SocketVisitor) -> bool:
    """Whether this visitor has been told that the pictures just brought are being measured."""
    return any("pf-measuring" in said for said in visitor.told)


def kill_all(pid: int, over: threading.Event) -> None:
    while not over.wait(0.05):
        for child in workers_of(pid):
            with contextlib.suppress(ProcessLookupError):
                os.kill(child, signal.SIGKILL)


def workers_of(pid: int) -> list[int]:
    """The worker processes of a server that are alive."""
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            state, parent = status.read_text().rpartition(")")[2].split()[:2]
            if int(parent) == pid and state != "Z":
                found.append(int(status.parent.name))
    return found


@pytest.mark.parametrize("ended_by", [signal.SIGKILL, signal.SIGTERM])
def test_workers_end_with_the_server(ended_by):
    with served_app({"POSE_FIT_WORKERS": "2"}) as app:
        until(lambda: len(workers_of(app.pid)) == 2)
        pids = workers_of(app.pid)
        os.kill(app.pid, ended_by)
    until(lambda: not any(Path(f"/proc/{pid}").exists() for pid in pids))


def until(is_so: Callable[[], object]) -> None:
    end_s = time.monotonic() + 30
    while not is_so():
        assert time.monotonic() < end_s, "waited in vain"
        time.sleep(0.05)


@pytest.mark.parametrize("visit", ["phone"], indirect=True)
def test_who_presses_stop_is_back_at_the_first_screen(visit, tmp_path, many):
    paths = [tmp_path / name for name in many]
    for path in paths:
        path.write_bytes(many[path.name])
    visit.tab.locator("input[type=file]").first.set_input_files([str(path) for path in paths])
    visit.tab.get_by_role("button", name="Stop", exact=True).click()
    visit.see(".pf-opening")
    assert not visit.tab.locator(".pf-measuring").count()
    assert visit.tab.get_by_role("button", name="Use a tape instead").is_visible()
