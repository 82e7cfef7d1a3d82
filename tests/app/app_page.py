"""A page as a test sees it: widgets found by what a visitor reads on them."""

from types import SimpleNamespace
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from pose_fit.app.visits import BROWSER_COOKIE


def use_browser(monkeypatch: pytest.MonkeyPatch, secret: str | None = None) -> None:
    """The browser that pages are run for, by its cookie.

    A page that is run without a server would get another made-up cookie at each run.
    """
    cookies = {} if secret is None else {BROWSER_COOKIE: secret}
    context = SimpleNamespace(
        cookies=cookies, locale="en-US", timezone=None, url="http://localhost/"
    )
    monkeypatch.setattr("streamlit.context", context)


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
