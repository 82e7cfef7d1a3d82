"""What a load run found, in words and tables."""

import os
import re
import statistics
import threading
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from .socket_visitor import SocketVisitor

__all__ = ["Found", "Usage", "chapter", "timed", "usage_of"]

VALUE = re.compile(r'pf-value">([\d.]+ in)')
PICTURE = re.compile(r"picture-of-\d+")
AHEAD = re.compile(r"(\d+) pictures? (?:is|are) ahead of yours")


@dataclass
class Found:
    """What all visitors saw, under one lock.

    ``cut`` are visits that ended with a killed process, ``gone`` those of it that were opened again
    and said that nothing is kept, ``codes`` the cases that the shop took.
    """

    lock: threading.Lock = field(default_factory=threading.Lock)
    times_s: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    ahead: list[int] = field(default_factory=list)
    codes: list[str] = field(default_factory=list)
    checks: int = 0
    visits: int = 0
    cut: int = 0
    gone: int = 0
    mixed: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def note(self, step: str, seconds: float) -> None:
        with self.lock:
            self.times_s[step].append(seconds)

    def fail(self, what: str) -> None:
        with self.lock:
            self.errors.append(what)

    def check(self, who: str, step: str, visitor: SocketVisitor, wanted: set[str]) -> None:
        """The page shows these values and names, and no others."""
        shown = {*VALUE.findall(visitor.text), *PICTURE.findall(visitor.text)}
        with self.lock:
            self.checks += 1
            if shown != wanted:
                self.mixed.append(f"{who}, {step}: wanted {sorted(wanted)}, found {sorted(shown)}")
            self.errors += [f"{who}, {step}: {error}" for error in visitor.errors]

    def hear(self, told: Sequence[str]) -> None:
        """What was told of the queue while a picture waited: its longest."""
        places = [int(number) for words in told for number in AHEAD.findall(words)]
        with self.lock:
            self.ahead.append(max(places, default=0))


@dataclass(frozen=True)
class Usage:
    """What a process of the app and its workers hold, and how long they ran on a processor."""

    page_mb: float
    workers_mb: float
    cpu_s: float


def usage_of(pid: int) -> Usage | None:
    """Of the app with this process; None where it is gone."""
    try:
        threads = Path(f"/proc/{pid}/task").iterdir()
        children = {c for t in threads for c in (t / "children").read_text().split()}
        own_mb, own_s = _process(pid)
        workers = [_process(int(child)) for child in children]
    except OSError:
        return None
    return Usage(own_mb, sum(mb for mb, _ in workers), own_s + sum(s for _, s in workers))


def _process(pid: int) -> tuple[float, float]:
    """Memory held, MB (VmRSS of proc(5)), and processor time had, s (utime and stime)."""
    status = Path(f"/proc/{pid}/status").read_text()
    words = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    if words[0] == "Z":
        raise ProcessLookupError(pid)
    found = re.search(r"VmRSS:\s+(\d+) kB", status)
    ticks = int(words[11]) + int(words[12])
    return int(found[1]) / 1024 if found else 0.0, ticks / os.sysconf("SC_CLK_TCK")


@contextmanager
def timed(found: Found, step: str) -> Iterator[None]:
    """Note how long the block took, where it did not fail."""
    start_s = time.perf_counter()
    yield
    found.note(step, time.perf_counter() - start_s)


def chapter(
    title: str,
    found: Found,
    usage: Sequence[tuple[float, Sequence[Usage | None]]],
    *,
    minutes: float,
    lost: Sequence[str],
    log: str,
) -> str:
    """One run in Markdown."""
    faults = re.findall(r"^.*(?:Traceback|Error).*$", log, re.MULTILINE)
    answers = sorted(found.times_s.get("picture: answer", [0.0]))
    within = sum(seconds <= 10 for seconds in answers) / len(answers)
    waited = sum(place > 0 for place in found.ahead)
    cpu_s = sum(
        max((entry[app].cpu_s for _, entry in usage if entry[app] is not None), default=0.0)
        for app in range(len(usage[0][1]))
    )
    lines = [
        f"## {title}",
        "",
        f"- {found.visits} visits, {found.checks} looks at a page, {len(answers)} pictures of 12"
        f" megapixels: **{len(answers) / minutes:.0f} pictures a minute**",
        f"- answers within 10 s: **{within:.1%}**; 95 % within"
        f" **{_part(answers, 0.95):.1f} s**, half within {_part(answers, 0.5):.1f} s",
        f"- pictures that waited for others and were told so: {waited} of {len(found.ahead)}; most"
        f" pictures ahead: {max(found.ahead, default=0)}",
        f"- pages that showed anything but the visitor's own: **{len(found.mixed)}**",
        f"- errors shown, answers missing, sockets lost: **{len(found.errors)}**"
        f" (visits at the killed process that ended with it, and were begun anew: {found.cut};"
        f" opened again and told that nothing is kept: {found.gone})",
        f"- cases that the shop took: {len(found.codes)}, lost of them: **{len(lost)}**",
        f"- lines of error in the servers' logs: **{len(faults)}**",
        f"- the app had {cpu_s:.0f} s of processor time in {usage[-1][0]:.0f} s,"
        f" {cpu_s / len(answers):.2f} s for each picture, its whole visit and the start included;"
        f" {os.getloadavg()[1]:.1f} programs wanted to run at once (mean of the last five minutes)",
        "",
        "| step | times | median s | 95 % s | longest s |",
        "|---|--:|--:|--:|--:|",
        *(
            f"| {step} | {len(times)} | {_part(times, 0.5):.2f} | {_part(times, 0.95):.2f}"
            f" | {max(times):.2f} |"
            for step, times in found.times_s.items()
        ),
        "",
        *_memory(usage),
    ]
    for told in (*found.mixed[:20], *found.errors[:20], *faults[:20]):
        # The last lines say what went wrong.
        lines += ["", "```", *told.strip().splitlines()[-3:], "```"]
    return "\n".join(lines) + "\n"


def _part(times_s: Sequence[float], part: float) -> float:
    ordered = sorted(times_s)
    return ordered[min(int(part * len(ordered)), len(ordered) - 1)]


def _memory(usage: Sequence[tuple[float, Sequence[Usage | None]]]) -> Iterator[str]:
    apps = range(len(usage[0][1]))
    heads = [f"app {app + 1}: pages | workers" for app in apps]
    yield f"| minute | {' | '.join(heads)} |"
    yield "|--:" * (1 + 2 * len(apps)) + "|"
    minutes = sorted({int(at_s // 60) for at_s, _ in usage})
    for minute in minutes:
        cells = []
        for app in apps:
            held = [entry[app] for at_s, entry in usage if int(at_s // 60) == minute]
            there = [one for one in held if one is not None]
            pages = statistics.mean(one.page_mb for one in there) if there else 0
            workers = statistics.mean(one.workers_mb for one in there) if there else 0
            cells += [f"{pages:.0f}", f"{workers:.0f}"] if there else ["ended", "ended"]
        yield f"| {minute + 1} | {' | '.join(cells)} |"
    yield ""
    for app in apps:
        half = [
            (at_s, entry[app].page_mb + entry[app].workers_mb)
            for at_s, entry in usage[len(usage) // 2 :]
            if entry[app] is not None
        ]
        if len(half) > 4:
            slope = statistics.linear_regression(*zip(*half, strict=True)).slope
            yield (
                f"App {app + 1} held {max(mb for _, mb in half):.0f} MB at most in the second half"
                f" and changed by {60 * slope:+.1f} MB a minute."
            )
