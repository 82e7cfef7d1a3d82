"""Many visitors at once on the served app, each with its own picture and its own tape readings.

    python -m tests.app.load_app --users 20 --minutes 10 --out calibration/results/load.md

Every visitor is a session of the server (see ``socket_visitor``). In turn they bring a picture
under a name of their own, with its question about the heels answered where it is asked, or read a
tape; no two show the same. After each step the visitor looks for its own numbers and names on the page,
and for those of anybody else. In between it waits as a person does. Visits end in three ways: the
page is opened anew and has to show the same, the entries are forgotten, or the visitor just leaves.
"""

import datetime as dt
import os
import random
import re
import statistics
import sys
import tempfile
import threading
import time
import traceback
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated

import typer

from pose_fit.app.inputs.uploads import samples
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.measure import measure_photo
from pose_fit.metrology.units import inches_text
from pose_fit.photo.photo import read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

from .served_app import served_app
from .socket_visitor import SocketVisitor

#: Seconds between two steps of a visitor.
PAUSE_S = (5.0, 20.0)
SAMPLE_EVERY_S = 5.0
VALUE = re.compile(r'pf-value">([\d.]+ in)')
PICTURE = re.compile(r"picture-of-\d+")


@dataclass
class Found:
    """What all visitors saw, under one lock."""

    lock: threading.Lock = field(default_factory=threading.Lock)
    times_s: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    checks: int = 0
    visits: int = 0
    mixed: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    @contextmanager
    def timed(self, step: str) -> Iterator[None]:
        start_s = time.perf_counter()
        yield
        with self.lock:
            self.times_s[step].append(time.perf_counter() - start_s)

    def check(self, who: str, step: str, visitor: SocketVisitor, wanted: set[str]) -> None:
        """The page shows these values and names, and no others."""
        shown = {*VALUE.findall(visitor.text), *PICTURE.findall(visitor.text)}
        with self.lock:
            self.checks += 1
            if shown != wanted:
                self.mixed.append(f"{who}, {step}: wanted {sorted(wanted)}, found {sorted(shown)}")
            self.errors += [f"{who}, {step}: {error}" for error in visitor.errors]


@dataclass(frozen=True)
class User:
    """One visitor's own things: tape readings, and a picture with the inseam that it gives."""

    number: int
    content: bytes
    by_picture: str
    is_asked_for_heels: bool

    @property
    def picture(self) -> str:
        return f"picture-of-{self.number}"

    def reading_mm(self, visit: int, step: int) -> float:
        """No two users' readings share a tenth of an inch."""
        return (16.0 + 0.1 * self.number + 2.1 * ((visit + 3 * step) % 7)) * 25.4


def users(count: int) -> list[User]:
    """Users with pictures, whose inseams the library measures beforehand."""
    sheets = [sample for sample in samples() if sample.truth["reference"] == "sheet"]
    contents = [sample.path.read_bytes() for sample in sheets]
    expected = [by_library(content) for content in contents]
    return [
        User(number, contents[number % len(sheets)], *expected[number % len(sheets)])
        for number in range(count)
    ]


def by_library(content: bytes) -> tuple[str, bool]:
    """The picture's inseam, and whether the heels have to be asked about for it."""
    photo, search = read_photo(content, name="any"), ReferenceRequest("auto")
    measured = measure_photo(photo, PhotoTask(search, Stated()), pose=pose_model())
    is_asked = isinstance(measured, Refusal)
    if isinstance(measured, Refusal):
        down = PhotoTask(search, Stated(heels_down=True))
        measured = measure_photo(photo, down, pose=pose_model())
    if isinstance(measured, Refusal):
        raise ValueError(f"wanted a sample that can be measured, found {measured}")
    return inches_text(measured.inseam.mean_mm), is_asked


def visits(user: User, port: int, found: Found, until_s: float) -> None:
    """One visit after another, until the time is over; a fault is noted and the next one begins."""
    rng = random.Random(user.number)
    visit = 0
    time.sleep(rng.uniform(0, PAUSE_S[1]))
    while time.monotonic() < until_s:
        who = f"user {user.number}, visit {visit}"
        try:
            one_visit(user, visit, port, found, rng, who)
        except Exception:
            with found.lock:
                found.errors.append(f"{who}: {traceback.format_exc()}")
        with found.lock:
            found.visits += 1
        visit += 1


def one_visit(
    user: User, visit: int, port: int, found: Found, rng: random.Random, who: str
) -> None:
    def pause() -> None:
        time.sleep(rng.uniform(*PAUSE_S))

    with found.timed("open"):
        visitor = SocketVisitor(port)
    wanted: set[str] = set()
    with visitor:
        found.check(who, "open", visitor, wanted)
        pause()
        if (user.number + visit) % 2:
            with found.timed("tape"):
                visitor.press("Use a tape instead")
            for step in range(2):
                pause()
                with found.timed("reading"):
                    visitor.fill("Reading 1", f"{user.reading_mm(visit, step):.2f} mm")
                    visitor.press("Show the answer")
                wanted = {inches_text(user.reading_mm(visit, step))}
                found.check(who, f"reading {step + 1}", visitor, wanted)
        else:
            with found.timed("picture"):
                visitor.upload("Take or choose pictures", f"{user.picture}.jpg", user.content)
            wanted = {user.by_picture, user.picture}
            if user.is_asked_for_heels:
                found.check(who, "picture", visitor, {user.picture})
                pause()
                with found.timed("heels"):
                    visitor.press("Yes, both heels were down")
            found.check(who, "answer", visitor, wanted)
        pause()
        query, cookie = visitor.query, visitor.cookie
        if visit % 3 == 1:
            with found.timed("forget"):
                visitor.press("Forget my pictures")
            found.check(who, "forget", visitor, set())
    if visit % 3 == 2:
        with found.timed("open anew"):
            again = SocketVisitor(port, query=query, cookie=cookie)
        with again:
            found.check(who, "open anew", again, wanted)
            pause()


def memory_mb(pid: int) -> float:
    """Memory that the process holds (VmRSS of proc(5))."""
    status = Path(f"/proc/{pid}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+) kB", status)[1]) / 1024


def processor_s(pid: int) -> float:
    """Processor time that the process has had (utime and stime of proc(5))."""
    words = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(words[11]) + int(words[12])) / os.sysconf("SC_CLK_TCK")


def report(
    found: Found,
    memory: list[tuple[float, float]],
    *,
    cpu_s: float,
    count: int,
    minutes: float,
    log: str,
) -> str:
    """The run in Markdown."""
    faults = re.findall(r"^.*(?:Traceback|Error).*$", log, re.MULTILINE)
    lines = [
        "# Load on the app",
        "",
        f"Written by `python -m tests.app.load_app --users {count} --minutes {minutes:g}` on"
        f" {dt.date.today():%d %B %Y}, on a machine with {os.cpu_count()} cores that others used"
        " too; the visitors ran on it as well.",
        "",
        f"- {count} users at once, {found.visits} visits, {found.checks} looks at a page;"
        f" {PAUSE_S[0]:.0f} to {PAUSE_S[1]:.0f} s between two steps",
        f"- the app got {cpu_s:.0f} s of processor time in {memory[-1][0]:.0f} s; on the machine"
        f" {os.getloadavg()[1]:.0f} processes wanted to run at once (mean of the last five minutes)",
        f"- pages that showed anything but the user's own: **{len(found.mixed)}**",
        f"- errors shown, answers missing, sockets lost: **{len(found.errors)}**",
        f"- lines of error in the server's log: **{len(faults)}**",
        "",
        "| step | times | median s | 95 % s | longest s |",
        "|---|--:|--:|--:|--:|",
    ]
    for step, times_s in found.times_s.items():
        ordered = sorted(times_s)
        late_s = ordered[min(int(0.95 * len(ordered)), len(ordered) - 1)]
        lines.append(
            f"| {step} | {len(ordered)} | {statistics.median(ordered):.2f} | {late_s:.2f}"
            f" | {ordered[-1]:.2f} |"
        )
    lines += ["", "| minute | memory of the server, MB, mean |", "|--:|--:|"]
    by_minute: dict[int, list[float]] = defaultdict(list)
    for at_s, megabytes in memory:
        by_minute[int(at_s // 60)].append(megabytes)
    means = {minute: statistics.mean(values) for minute, values in by_minute.items()}
    lines += [f"| {minute + 1} | {megabytes:.0f} |" for minute, megabytes in means.items()]
    lines += ["", f"Highest {max(megabytes for _, megabytes in memory):.0f} MB."]
    if len(memory) > 4:
        half = memory[len(memory) // 2 :]
        slope = statistics.linear_regression(*zip(*half, strict=True)).slope
        lines[-1] += f" Over the second half it changed by {60 * slope:+.1f} MB a minute."
    for told in (*found.mixed[:20], *found.errors[:20], *faults[:20]):
        # The last lines say what went wrong.
        lines += ["", "```", *told.strip().splitlines()[-3:], "```"]
    return "\n".join(lines) + "\n"


def main(
    count: Annotated[int, typer.Option("--users", help="Visitors at once.")] = 20,
    minutes: Annotated[float, typer.Option(help="How long.")] = 10.0,
    out: Annotated[Path | None, typer.Option(help="Where to write the report.")] = None,
) -> None:
    """Let many visitors use the app at once, and report what they saw."""
    found, memory = Found(), []
    everybody = users(count)
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder, "log")
        places = {"POSE_FIT_CASE_BOOK": str(log.with_name("cases.db"))}
        with log.open("w") as output, served_app(places, output=output) as app:
            start_s = time.monotonic()
            until_s = start_s + 60 * minutes
            cpu_s = 0.0
            threads = [
                threading.Thread(target=visits, args=(user, app.port, found, until_s))
                for user in everybody
            ]
            for thread in threads:
                thread.start()
            while any(thread.is_alive() for thread in threads):
                memory.append((time.monotonic() - start_s, memory_mb(app.pid)))
                cpu_s = processor_s(app.pid)
                time.sleep(SAMPLE_EVERY_S)
        told = log.read_text()
        text = report(found, memory, cpu_s=cpu_s, count=count, minutes=minutes, log=told)
    print(text)
    if out is not None:
        out.write_text(text, encoding="utf-8")
    sys.exit(1 if found.mixed or found.errors else 0)


if __name__ == "__main__":
    typer.run(main)
