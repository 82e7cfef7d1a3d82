"""A page run without a browser, and the few ways in which tests reach into it."""

import io
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from PIL import Image
from streamlit.runtime.scriptrunner import ScriptRunnerEvent
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.local_script_runner import LocalScriptRunner

from pose_fit.pages.serve import ENTRY


class Page:
    """Finds widgets by what a visitor reads on them."""

    def __init__(self, app: AppTest) -> None:
        self.app = app

    def widget(self, kind: str, label: str) -> Any:
        found = [w for w in getattr(self.app, kind) if w.label.startswith(label)]
        assert found, f"no {kind} {label!r} among {[w.label for w in getattr(self.app, kind)]}"
        return found[0]

    def enter(self, kind: str, label: str, value: object) -> "Page":
        self.widget(kind, label).set_value(value)
        return self.run()

    def press(self, label: str) -> "Page":
        self.widget("button", label).click()
        return self.run()

    def upload(self, label: str, *files: tuple[str, bytes, str]) -> "Page":
        uploader = self.widget("file_uploader", label)
        uploader.set_value(list(files) if uploader.accept_multiple_files else files[0])
        return self.run()

    def run(self) -> "Page":
        self.app.run()
        assert not self.app.exception, self.app.exception
        return self

    @property
    def text(self) -> str:
        """Everything that is read on the page."""
        kinds = (
            "title",
            "markdown",
            "caption",
            "info",
            "success",
            "warning",
            "error",
            "code",
            "subheader",
        )
        said = [element.value for kind in kinds for element in getattr(self.app, kind)]
        said += [element.proto.body for element in self.app.get("html")]
        return "\n".join(said)


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


#: A page on its own; the entry script itself shows the first one.
ALONE = """
from pose_fit.pages.session import keep_fields
from pose_fit.pages.{name} import {name}_page
keep_fields()
{name}_page()
"""


@pytest.fixture
def open_page() -> Callable[..., Page]:
    def opened(name: str = "") -> Page:
        if name:
            app = AppTest.from_string(ALONE.format(name=name), default_timeout=60)
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
