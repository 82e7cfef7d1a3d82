"""Pages run without a browser."""

import io
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from PIL import Image
from streamlit.runtime.scriptrunner import ScriptRunnerEvent
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.local_script_runner import LocalScriptRunner

from pose_fit.app.serve import ENTRY
from tests.postgres_server import postgres, postgres_database

from .app_page import Page, use_browser
from .browser import address, book_place, chromium, visit


@pytest.fixture(autouse=True)
def _each_run_replaces_the_last(monkeypatch: pytest.MonkeyPatch) -> None:
    """A run within a run (``st.rerun``) clears the page, as it does in the browser."""
    make = LocalScriptRunner.__init__

    def make_clearing(runner: LocalScriptRunner, *args: Any, **named: Any) -> None:
        make(runner, *args, **named)

        def clear(_sender: object, event: ScriptRunnerEvent, **_: object) -> None:
            if event == ScriptRunnerEvent.SCRIPT_STARTED:
                runner.forward_msg_queue.clear()

        runner.on_event.connect(clear, weak=False)

    monkeypatch.setattr(LocalScriptRunner, "__init__", make_clearing)


@pytest.fixture(autouse=True)
def _a_browser_without_cookies(monkeypatch: pytest.MonkeyPatch) -> None:
    use_browser(monkeypatch)


__all__ = ["address", "book_place", "chromium", "postgres", "postgres_database", "visit"]

#: A page on its own; the entry script itself shows the first one.
ALONE = """
from pose_fit.app.session import keep_fields
from pose_fit.app.{place} import {name}_page
keep_fields()
{name}_page()
"""
PLACES = {"gift": "family.gift_page", "staff": "shop.staff_page"}


@pytest.fixture
def open_page() -> Callable[..., Page]:
    def opened(name: str = "") -> Page:
        if name:
            app = AppTest.from_string(
                ALONE.format(name=name, place=PLACES[name]), default_timeout=60
            )
        else:
            app = AppTest.from_file(str(ENTRY), default_timeout=60)
        return Page(app).run()

    return opened


@pytest.fixture
def page(open_page: Callable[..., Page]) -> Page:
    return open_page()


@pytest.fixture(scope="session")
def empty_wall() -> bytes:
    """A picture with nobody in it."""
    shades = np.random.default_rng(5).integers(180, 200, (640, 480, 3), dtype=np.uint8)
    buffer = io.BytesIO()
    Image.fromarray(shades).save(buffer, "JPEG")
    return buffer.getvalue()
