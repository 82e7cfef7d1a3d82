"""A visitor's browser against the served app; both are started once for all browser tests."""

import datetime as dt
import itertools
import os
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg

from pose_fit.casebook.book import CaseBook

from .served_app import served_app

__all__ = [
    "PASSPHRASE",
    "WATCH_FOR_SIGN",
    "Visit",
    "address",
    "book_place",
    "chromium",
    "visit",
    "visitor",
]

PASSPHRASE = "four plain words here"
SIZES = {"phone": (390, 844), "desk": (1280, 900)}
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

#: When the next file is chosen, and when and where the first sign of progress is drawn:
#: ``window.chosen`` and ``window.signs``, each (milliseconds, top, bottom).
WATCH_FOR_SIGN = """() => {
  window.signs = [];
  const look = () => {
    const sign = document.querySelector('.pf-measuring, [data-testid=stFileUploaderFile]');
    if (sign) {
      const box = sign.getBoundingClientRect();
      window.signs.push([performance.now(), box.top, box.bottom]);
    } else { requestAnimationFrame(look); }
  };
  document.querySelector('input[type=file]').addEventListener('change', () => {
    window.chosen = performance.now(); look();
  }, {capture: true});
}"""


#: Whether the page has been idle, nothing on it moving, for this many frames in a row of this wait.
#: Frames, not milliseconds: on a busy machine a page that has yet to act draws none.
IDLE = """([wait, frames]) => {
  if (window.idleWait !== wait) { window.idleWait = wait; window.idleFrames = 0; }
  const app = document.querySelector('[data-testid=stApp]');
  const moves = document.getAnimations().some((animation) => animation.playState === 'running'
    && Number.isFinite(animation.effect.getComputedTiming().endTime));
  const idle = app && app.dataset.testScriptState === 'notRunning' && !moves;
  window.idleFrames = idle ? window.idleFrames + 1 : 0;
  return window.idleFrames > frames;
}"""
WAIT_S = 60.0


class Talk:
    """What a page asks of the server, and whether all of it is answered."""

    def __init__(self, tab: Any) -> None:
        #: How often the page asked for an answer.
        self.asked = 0
        self.is_answered = True
        tab.on("websocket", self._follow)

    def _follow(self, socket: Any) -> None:
        socket.on("framesent", self._sent)
        socket.on("framereceived", self._received)
        socket.on("close", self._closed)

    def _sent(self, frame: bytes | str) -> None:
        kind = BackMsg.FromString(frame).WhichOneof("type") if isinstance(frame, bytes) else None
        self.asked += kind == "rerun_script"
        # Where a file goes is asked before the file is sent, and only then for an answer to it.
        if kind in ("rerun_script", "file_urls_request"):
            self.is_answered = False

    def _received(self, frame: bytes | str) -> None:
        message = ForwardMsg.FromString(frame) if isinstance(frame, bytes) else ForwardMsg()
        match message.WhichOneof("type"):
            case "new_session":
                self.is_answered = False
            case "script_finished":
                early = ForwardMsg.FINISHED_EARLY_FOR_RERUN
                self.is_answered = message.script_finished != early

    def _closed(self, _: Any) -> None:
        # What is asked next goes to a new socket.
        self.is_answered = True


class Visit:
    """One visitor's tab, opened at an address."""

    def __init__(self, context: Any, size: str, address: str) -> None:
        self.tab, self.size, self.address = context.new_page(), size, address
        self.tab.set_default_timeout(WAIT_S * 1000)
        #: Every address that the page called.
        self.called: list[str] = []
        self.tab.on("request", lambda sent: self.called.append(sent.url))
        self.talk = Talk(self.tab)
        self._waits = itertools.count()
        self.arrive(address)

    def arrive(self, address: str) -> None:
        """Open an address and wait for its page."""
        self.tab.goto(address)
        self.tab.wait_for_selector("h1")
        self.settle()

    def settle(self) -> None:
        """Wait until all that the page asked is answered and drawn."""
        end_s = time.monotonic() + WAIT_S
        while True:
            self.tab.wait_for_function(IDLE, arg=[next(self._waits), 12])
            if self.talk.is_answered:
                return
            assert time.monotonic() < end_s, "the page waits for its answer in vain"

    def enter(self, label: str, text: str) -> None:
        field = self.tab.get_by_role("textbox", name=label)
        number = self.tab.get_by_role("spinbutton", name=label)
        field = field.or_(number).first
        field.fill(text)
        field.press("Enter")
        self.settle()

    def choose(self, label: str, option: str) -> None:
        box = self.tab.get_by_role("combobox", name=label).first
        box.click()
        box.press_sequentially(option)
        box.press("Enter")
        self.settle()

    def enter_day(self, label: str, day: dt.date) -> None:
        box = self.tab.locator('[data-testid="stDateInput"]', has_text=label)
        box.locator("input").fill(f"{day:%m/%d/%Y}")
        box.locator("input").press("Enter")
        self.settle()

    def press(self, label: str) -> None:
        self.tab.get_by_role("button", name=label).first.click()
        self.settle()

    def open(self, heading: str) -> None:
        """Unfold a part; a press can be lost where the page is being drawn anew."""
        summary = self.tab.locator("summary", has_text=heading)
        part = self.tab.locator("details", has=summary).first
        self.settle()
        for _ in range(3):
            if part.get_attribute("open") is not None:
                return
            summary.first.click()
            self.settle()
        assert part.get_attribute("open") is not None, f"{heading} does not unfold"

    def go(self, page: str) -> None:
        self.tab.get_by_role("link", name=page).click()
        self.settle()

    def measure_by_tape(self, reading: str) -> None:
        self.press("Use a tape instead")
        self.tab.get_by_role("textbox", name="Reading 1").fill(reading)
        self.press("Show the answer")
        self.see(".pf-answer")

    def upload(self, *paths: Path) -> None:
        self.tab.locator("input[type=file]").first.set_input_files([str(path) for path in paths])
        self.settle()

    def see(self, selector: str) -> None:
        self.tab.wait_for_selector(selector)
        self.settle()

    def see_text(self, text: str) -> None:
        self.tab.get_by_text(text).first.wait_for(state="attached")

    def download(self, label: str) -> bytes:
        with self.tab.expect_download() as waiting:
            self.tab.get_by_role("button", name=label).first.click()
        return Path(waiting.value.path()).read_bytes()

    def picture(self, name: str) -> None:
        """Keep the whole page where ``POSE_FIT_SCREENSHOTS`` names a folder."""
        folder = os.environ.get("POSE_FIT_SCREENSHOTS")
        if not folder:
            return
        Path(folder).mkdir(parents=True, exist_ok=True)
        width, height = SIZES[self.size]
        block = "document.querySelector('[data-testid=stMainBlockContainer]').scrollHeight"
        self.tab.set_viewport_size({"width": width, "height": self.tab.evaluate(block) + 80})
        self.tab.screenshot(path=Path(folder) / f"{name}_{self.size}.png")
        self.tab.set_viewport_size({"width": width, "height": height})

    def overflow_px(self) -> int:
        """How far anything sticks out to the right of the window."""
        main = "document.querySelector('[data-testid=stMain]').scrollWidth"
        return int(self.tab.evaluate(f"{main} - window.innerWidth"))


@pytest.fixture(scope="session")
def book_place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A case book of the served app, with one account."""
    place = tmp_path_factory.mktemp("book") / "cases.db"
    with CaseBook(place) as book:
        book.staff.add("Kim", PASSPHRASE)
    return place


@pytest.fixture(scope="session")
def address(book_place: Path) -> Iterator[str]:
    """Where the app is served."""
    # Whatever the server writes, it writes where a test can look for it.
    places = {"TMPDIR": book_place.parent / "temporary", "HOME": book_place.parent / "home"}
    for place in places.values():
        place.mkdir()
    environment = {name: str(place) for name, place in places.items()}
    with served_app({"POSE_FIT_CASE_BOOK": str(book_place), **environment}) as app:
        yield app.url


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """Debian's Chromium; the tests are skipped where it is not installed."""
    api = pytest.importorskip("playwright.sync_api", reason="Playwright is not installed")
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        pytest.skip("Chromium is not installed: apt-get install chromium")
    with api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        yield browser
        browser.close()


@contextmanager
def visitor(chromium: Any, address: str, size: str = "desk") -> Iterator[Visit]:
    """A new visitor with a browser of its own, who leaves when the block ends."""
    width, height = SIZES[size]
    context = chromium.new_context(viewport={"width": width, "height": height})
    try:
        yield Visit(context, size, address)
    finally:
        context.close()


@pytest.fixture(params=SIZES)
def visit(request: pytest.FixtureRequest, chromium: Any, address: str) -> Iterator[Visit]:
    """A new visitor, at phone and at desk width."""
    with visitor(chromium, address, request.param) as new:
        yield new
