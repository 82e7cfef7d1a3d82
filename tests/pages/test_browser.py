"""The pages in a real browser, at phone and desk width."""

import os
import shutil
import socket
import subprocess
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from pose_fit.pages.serve import command

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
sync_api = pytest.importorskip("playwright.sync_api", reason="Playwright is not installed")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {"phone": (390, 844), "desk": (1280, 900)}


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    port = _free_port()
    environment = os.environ | {"STREAMLIT_SERVER_HEADLESS": "true"}
    with subprocess.Popen(
        command(port=port), env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    ) as server:
        try:
            url = f"http://127.0.0.1:{port}"
            for _ in range(150):
                try:
                    with urllib.request.urlopen(f"{url}/_stcore/health"):
                        break
                except OSError:
                    time.sleep(0.2)
            yield url
        finally:
            server.terminate()


@pytest.fixture(scope="module")
def chromium():
    with sync_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(params=SIZES)
def visit(request, chromium, address) -> Iterator["Visit"]:
    width, height = SIZES[request.param]
    context = chromium.new_context(viewport={"width": width, "height": height})
    tab = context.new_page()
    called: list[str] = []
    tab.on("request", lambda sent: called.append(sent.url))
    tab.goto(address)
    tab.wait_for_selector("h1", timeout=30_000)
    yield Visit(tab, request.param, address, called)
    context.close()


class Visit:
    """One visitor's tab."""

    def __init__(self, tab, size: str, address: str, called: list[str]) -> None:
        self.tab, self.size, self.address, self.called = tab, size, address, called

    def settle(self) -> None:
        self.tab.wait_for_timeout(300)
        self.tab.wait_for_selector(
            '[data-testid="stStatusWidget"]', state="detached", timeout=60_000
        )
        self.tab.wait_for_timeout(200)

    def enter(self, label: str, text: str) -> None:
        self.tab.get_by_label(label).first.fill(text)
        self.tab.keyboard.press("Enter")
        self.settle()

    def picture(self, name: str) -> None:
        """Keep a screenshot where ``POSE_FIT_SCREENSHOTS`` names a folder."""
        folder = os.environ.get("POSE_FIT_SCREENSHOTS")
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            self.tab.screenshot(path=Path(folder) / f"{name}_{self.size}.png", full_page=True)

    def overflow_px(self) -> int:
        """How far anything sticks out to the right of the window."""
        return int(
            self.tab.evaluate(
                "document.querySelector('[data-testid=stMain]').scrollWidth - window.innerWidth"
            )
        )


def test_a_tape_reading_leads_to_bicycles_and_nothing_leaves_the_machine(visit):
    visit.enter("Reading 1", "23.5")
    visit.tab.wait_for_selector(".pf-bike")
    visit.picture("tape")
    assert visit.overflow_px() <= 0
    assert visit.called
    assert all(url.startswith((visit.address, "data:", "blob:")) for url in visit.called)


def test_every_picture_has_a_text_alternative(visit):
    visit.enter("Reading 1", "23.5")
    visit.tab.wait_for_selector(".pf-bike")
    images = visit.tab.locator("[data-testid=stMain] img")
    assert images.count() > 3
    assert all(images.nth(n).get_attribute("alt") is not None for n in range(images.count()))
    told = visit.tab.locator("img.pf-drawing").first.get_attribute("alt")
    assert "learance" in told or "Inseams" in told


def test_the_form_is_filled_by_keyboard_alone(visit):
    visit.tab.get_by_label("Reading 1").focus()
    visit.tab.keyboard.type("23.5")
    visit.tab.keyboard.press("Tab")
    visit.settle()
    visit.tab.wait_for_selector(".pf-value")
    focused = visit.tab.evaluate("document.activeElement.getAttribute('aria-label')")
    assert focused.startswith("Reading 2")
