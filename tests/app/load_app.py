"""Many visitors at once on two processes of the app, each with its own 12-megapixel picture.

    python -m tests.app.load_app --users 40 --minutes 10 --out calibration/results/load.md

Two processes share one PostgreSQL behind one proxy. There are two runs: in the second one of the
processes is killed half way. Every visitor is a session of the server (see ``socket_visitor``): it brings a
picture under a name of its own, says whether the heels were down where it is asked, reads the
answer, and in some visits sends it to the shop. After each step it looks for its own numbers and
names on the page, and for those of anybody else. In between it waits as a person does. Visits end
in three ways: the page is opened anew and has to show the same, the entries are forgotten, or the
visitor just leaves.
"""

import datetime as dt
import os
import random
import re
import signal
import sys
import tempfile
import threading
import time
import traceback
from collections.abc import Sequence
from contextlib import ExitStack, closing
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer
from websockets.exceptions import ConnectionClosed

from pose_fit.app.texts.site_texts import SITE
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.casebook.book import CaseBook
from pose_fit.errors import CaseBookError
from pose_fit.measure import measure_photo
from pose_fit.metrology.units import length_text
from pose_fit.photo.photo import read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests.postgres_server import APP_USER, PostgresServer, postgres_server

from .branch_proxy import BranchProxy
from .large_pictures import large_pictures
from .load_report import Found, Usage, chapter, timed, usage_of
from .served_app import ServedApp, served_app
from .socket_visitor import SocketVisitor

#: Seconds between two steps of a visitor, who reads what the page says.
PAUSE_S = (10.0, 40.0)
SAMPLE_EVERY_S = 5.0
#: A killed process takes new visits for so long at most, until the system has closed its socket.
DYING_S = 5.0
CODE = re.compile(r"reply code is \*\*([0-9A-Z]{4}-[0-9A-Z]{4})")
SIGN = re.compile('class="pf-measuring')
ANSWER = re.compile('class="pf-answer"|<h1>One question first|<h1>No answer yet')


@dataclass(frozen=True)
class User:
    """One visitor's own picture, and the inseam that it gives."""

    number: int
    content: bytes
    by_picture: str
    is_asked_for_heels: bool

    @property
    def picture(self) -> str:
        return f"picture-of-{self.number}"


@dataclass
class Shop:
    """The processes behind the proxy, and when one of them was killed."""

    proxy: BranchProxy
    apps: Sequence[ServedApp]
    url: str
    killed_at_s: float | None = None

    def ended_with_process(self, cookie: str) -> bool:
        """Whether the visits of a browser with these cookies were at the killed process."""
        was_killed = self.killed_at_s is not None
        return was_killed and self.proxy.first_port(cookie) == self.apps[0].port

    def kill_first(self) -> None:
        self.killed_at_s = time.monotonic()
        os.kill(self.apps[0].pid, signal.SIGKILL)


def users(count: int) -> list[User]:
    """Users with pictures, whose inseams the library measures beforehand."""
    with tempfile.TemporaryDirectory() as folder:
        contents = [path.read_bytes() for path in large_pictures(Path(folder))]
    expected = [by_library(content) for content in contents]
    return [
        User(number, contents[number % len(contents)], *expected[number % len(contents)])
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
    return length_text(measured.inseam.mean_mm, "in"), is_asked


def visits(user: User, shop: Shop, found: Found, until_s: float) -> None:
    """One visit after another, until the time is over; a fault is noted and the next one begins."""
    rng = random.Random(user.number)
    visit = 0
    time.sleep(rng.uniform(0, PAUSE_S[1]))
    while time.monotonic() < until_s:
        who, begun_s = f"user {user.number}, visit {visit}", time.monotonic()
        try:
            one_visit(user, visit, shop, found, rng, who)
        except (ConnectionClosed, OSError):
            # A visit at the killed process ends with it; the next one finds the other process.
            if shop.killed_at_s is not None and begun_s <= shop.killed_at_s + DYING_S:
                with found.lock:
                    found.cut += 1
            else:
                found.fail(f"{who}: {traceback.format_exc()}")
        except Exception:
            found.fail(f"{who}: {traceback.format_exc()}")
        with found.lock:
            found.visits += 1
        visit += 1


def one_visit(
    user: User, visit: int, shop: Shop, found: Found, rng: random.Random, who: str
) -> None:
    def pause() -> None:
        time.sleep(rng.uniform(*PAUSE_S))

    with timed(found, "open"):
        visitor = SocketVisitor(shop.proxy.port)
    wanted = {user.by_picture, user.picture}
    with visitor:
        found.check(who, "open", visitor, set())
        pause()
        bring(user, visitor, found)
        if user.is_asked_for_heels:
            found.check(who, "picture", visitor, {user.picture})
            pause()
            with timed(found, "heels"):
                visitor.press("Yes, both heels were down")
        found.check(who, "answer", visitor, wanted)
        pause()
        if (user.number + visit) % 3 == 0:
            with timed(found, "send to the shop"):
                visitor.press("Send to the shop")
            found.check(who, "send", visitor, wanted)
            with found.lock:
                found.codes += CODE.findall(visitor.text)
        query, cookie = visitor.query, visitor.cookie
        if visit % 3 == 1:
            with timed(found, "forget"):
                visitor.press("Forget my pictures")
            found.check(who, "forget", visitor, set())
    if visit % 3 == 2:
        with timed(found, "open anew"):
            again = SocketVisitor(shop.proxy.port, query=query, cookie=cookie)
        with again:
            if shop.ended_with_process(cookie) and SITE["en"].lost in again.text:
                # What was at the killed process is gone with it, and the page says so.
                with found.lock:
                    found.gone += 1
                found.check(who, "open anew", again, set())
            else:
                found.check(who, "open anew", again, wanted)
            pause()


def bring(user: User, visitor: SocketVisitor, found: Found) -> None:
    """Upload the picture: when progress, answer and marked picture were there."""
    start_s = time.perf_counter()
    visitor.upload("Take or choose pictures", f"{user.picture}.jpg", user.content)
    found.note("picture: all of the page", time.perf_counter() - start_s)
    for step, sought in (("first sign", SIGN), ("answer", ANSWER)):
        at_s = [
            at_s
            for at_s, words in zip(visitor.told_at_s, visitor.told, strict=True)
            if sought.search(words)
        ]
        if at_s:
            found.note(f"picture: {step}", at_s[0] - start_s)
    found.hear(visitor.told)


def run(
    everybody: Sequence[User], server: PostgresServer, *, minutes: float, kill: bool
) -> tuple[str, bool]:
    """One run, as a chapter of the report, and whether nothing went wrong."""
    found, usage = Found(), list[tuple[float, list[Usage | None]]]()
    database = "killed" if kill else "undisturbed"
    with server.admin() as admin:
        admin.execute(f"CREATE DATABASE {database} OWNER {APP_USER}")
    url = server.url(database)
    with ExitStack() as stack:
        log = Path(stack.enter_context(tempfile.TemporaryDirectory()), "log")
        output = stack.enter_context(log.open("a"))
        places = {"POSE_FIT_CASE_BOOK": url}
        apps = [stack.enter_context(served_app(places, output=output)) for _ in range(2)]
        proxy = BranchProxy([app.port for app in apps], shared=True)
        shop = Shop(stack.enter_context(closing(proxy)), apps, url)
        start_s = time.monotonic()
        until_s = start_s + 60 * minutes
        threads = [
            threading.Thread(target=visits, args=(user, shop, found, until_s)) for user in everybody
        ]
        for thread in threads:
            thread.start()
        while any(thread.is_alive() for thread in threads):
            now_s = time.monotonic()
            if kill and shop.killed_at_s is None and now_s > start_s + 30 * minutes:
                shop.kill_first()
            usage.append((now_s - start_s, [usage_of(app.pid) for app in apps]))
            time.sleep(SAMPLE_EVERY_S)
        lost = [code for code in found.codes if not is_kept(url, code)]
        told = log.read_text()
    title = "One process killed half way" if kill else "Undisturbed"
    took_min = usage[-1][0] / 60
    text = chapter(title, found, usage, minutes=took_min, lost=lost, log=told)
    return text, not (found.mixed or found.errors or lost)


def is_kept(url: str, code: str) -> bool:
    """Whether the case with this reply code is in the book."""
    with CaseBook(url) as book:
        try:
            book.case_of_code(code)
        except CaseBookError:
            return False
    return True


def main(
    count: Annotated[int, typer.Option("--users", help="Visitors at once.")] = 40,
    minutes: Annotated[float, typer.Option(help="How long each of the two runs takes.")] = 10.0,
    out: Annotated[Path | None, typer.Option(help="Where to write the report.")] = None,
) -> None:
    """Let many visitors use the app at once, undisturbed and with a process killed; report."""
    # Whoever stops this run stops the servers too.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    everybody = users(count)
    with postgres_server() as server:
        chapters = [run(everybody, server, minutes=minutes, kill=kill) for kill in (False, True)]
    text = "\n".join(
        [
            "# Load on the app",
            "",
            f"Written by `python -m tests.app.load_app --users {count} --minutes {minutes:g}` on"
            f" {dt.date.today():%d %B %Y}, on {os.cpu_count()} cores. {count} visitors at once, on two"
            " processes of the app, each with its workers, on one PostgreSQL behind one proxy; all"
            f" of them and the visitors share the cores. {PAUSE_S[0]:.0f} to {PAUSE_S[1]:.0f} s pass"
            " between two steps of a visitor.",
            "",
            *(text for text, _ in chapters),
        ]
    )
    print(text)
    if out is not None:
        out.write_text(text, encoding="utf-8")
    sys.exit(0 if all(is_sound for _, is_sound in chapters) else 1)


if __name__ == "__main__":
    typer.run(main)
