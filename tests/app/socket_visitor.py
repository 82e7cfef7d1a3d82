"""A visitor without a browser: speaks with the served app as Streamlit's own page does.

Its messages are those of ``streamlit.proto`` over the same socket, so that every visitor is a
session of the server like any other, at a small part of a browser's cost.
"""

import time
import urllib.parse
import urllib.request
from collections.abc import Callable, Mapping
from types import TracebackType
from typing import Any

from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from streamlit.proto.WidgetStates_pb2 import WidgetState
from websockets.sync.client import connect

__all__ = ["AppError", "SocketVisitor"]

TIMEOUT_S = 120.0


class AppError(Exception):
    """The app showed an exception, or did not answer as it should."""


class SocketVisitor:
    """One visitor with an open page; ``text`` is what can be read on it."""

    def __init__(self, port: int, *, query: str = "", cookie: str = "") -> None:
        self._host = f"127.0.0.1:{port}"
        # What the page sets first: the cookie that guards uploads against other sites.
        with urllib.request.urlopen(f"http://{self._host}/_stcore/health") as answer:
            cookies = answer.headers.get_all("Set-Cookie") or []
        #: Opens the same visit again, as the same browser does.
        self.cookie = cookie or "; ".join(given.split(";")[0] for given in cookies)
        self._socket = connect(
            f"ws://{self._host}/_stcore/stream",
            max_size=None,
            open_timeout=TIMEOUT_S,
            # A browser's page leaves the asking whether the other is alive to the server.
            ping_interval=None,
            additional_headers={"Cookie": self.cookie, "Origin": f"http://{self._host}"},
        )
        self.query = query
        self._session = ""
        self._page_hash = ""
        self._elements: dict[tuple[int, ...], Any] = {}
        #: What stood on the page for a while, since the last time that something was asked.
        self.told: list[str] = []
        self.told_at_s: list[float] = []
        self._states: dict[str, WidgetState] = {}
        self._rerun()

    def __enter__(self) -> "SocketVisitor":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._socket.close()

    @property
    def text(self) -> str:
        """What is read on the page, in its order."""
        said = []
        for _, element in sorted(self._elements.items()):
            kind = element.WhichOneof("type")
            if kind in ("html", "markdown", "alert", "heading", "code"):
                body = getattr(element, kind)
                said.append(getattr(body, "body", "") or getattr(body, "code_text", ""))
        return "\n".join(said)

    @property
    def errors(self) -> list[str]:
        """The texts in error boxes."""
        alerts = [e.alert for e in self._elements.values() if e.WhichOneof("type") == "alert"]
        return [alert.body for alert in alerts if alert.format == alert.ERROR]

    def value(self, kind: str, label: str) -> Any:
        """What the server last put into a field."""
        field = self._field(kind, label)
        return field.value if field.set_value else field.default

    def enter(self, label: str, text: str) -> None:
        """Type into a field of text."""
        self._set(self._field("text_input", label).id, string_value=text)

    def fill(self, label: str, text: str) -> None:
        """Type into a field of a form, which its button sends."""
        name = self._field("text_input", label).id
        self._states[name] = WidgetState(id=name, string_value=text)

    def press(self, label: str) -> None:
        """Press a button once."""
        button = self._field("button", label)
        self._set(button.id, trigger_value=True)
        self._states.pop(button.id, None)

    def upload(self, label: str, name: str, content: bytes, kind: str = "image/jpeg") -> None:
        """Choose one file in an upload field."""
        self.upload_all(label, {name: content}, kind)

    def upload_all(
        self, label: str, files: Mapping[str, bytes], kind: str = "image/jpeg", *, wait: bool = True
    ) -> None:
        """Choose files by their names in an upload field; ``wait`` for what the page says then."""
        uploader = self._field("file_uploader", label)
        asked = BackMsg()
        asked.file_urls_request.request_id = "1"
        asked.file_urls_request.session_id = self._session
        asked.file_urls_request.file_names.extend(files)
        self._socket.send(asked.SerializeToString())
        while (message := self._receive()).WhichOneof("type") != "file_urls_response":
            self._take(message)
        state = WidgetState(id=uploader.id)
        given = message.file_urls_response.file_urls
        for urls, (name, content) in zip(given, files.items(), strict=True):
            self._put(urls.upload_url, name, content, kind)
            info = state.file_uploader_state_value.uploaded_file_info.add()
            info.name, info.size, info.file_id = name, len(content), urls.file_id
            info.file_urls.CopyFrom(urls)
        self._states[uploader.id] = state
        self._ask()
        if wait:
            self.read()

    def _field(self, kind: str, label: str) -> Any:
        fields = [getattr(e, kind) for e in self._elements.values() if e.WhichOneof("type") == kind]
        for field in fields:
            if field.label.startswith(label):
                return field
        raise AppError(f"no {kind} {label!r} among {[field.label for field in fields]}")

    def _set(self, name: str, **value: Any) -> None:
        self._states[name] = WidgetState(id=name, **value)
        self._rerun()

    def _put(self, path: str, name: str, content: bytes, kind: str) -> None:
        edge = "-----------------------------a-visitor"
        head = (
            f'--{edge}\r\nContent-Disposition: form-data; name="{name}"; filename="{name}"\r\n'
            f"Content-Type: {kind}\r\n\r\n"
        )
        cookies = dict(part.strip().split("=", 1) for part in self.cookie.split(";") if part)
        request = urllib.request.Request(
            urllib.parse.urljoin(f"http://{self._host}/", path),
            head.encode() + content + f"\r\n--{edge}--\r\n".encode(),
            {
                "Content-Type": f"multipart/form-data; boundary={edge}",
                "Cookie": self.cookie,
                "X-Xsrftoken": cookies.get("_streamlit_xsrf", ""),
            },
            method="PUT",
        )
        with urllib.request.urlopen(request, timeout=TIMEOUT_S):
            pass

    def _rerun(self) -> None:
        self._ask()
        self.read()

    def _ask(self) -> None:
        self.told.clear()
        self.told_at_s.clear()
        asked = BackMsg()
        asked.rerun_script.query_string = self.query
        asked.rerun_script.page_script_hash = self._page_hash
        asked.rerun_script.widget_states.widgets.extend(self._states.values())
        self._socket.send(asked.SerializeToString())

    def read(self, is_enough: Callable[["SocketVisitor"], bool] = lambda _: False) -> None:
        """Take in what the page says until it has said all, or enough for now."""
        while not is_enough(self):
            message = self._receive()
            self._take(message)
            if message.WhichOneof("type") == "script_finished":
                match message.script_finished:
                    case ForwardMsg.FINISHED_SUCCESSFULLY:
                        break
                    case ForwardMsg.FINISHED_WITH_COMPILE_ERROR:
                        raise AppError("the app's script does not compile")
        else:
            return
        shown = {
            getattr(getattr(e, e.WhichOneof("type")), "id", "") for e in self._elements.values()
        }
        self._states = {name: state for name, state in self._states.items() if name in shown}
        for element in self._elements.values():
            if element.WhichOneof("type") == "exception":
                raise AppError(f"{element.exception.type}: {element.exception.message}")

    def _receive(self) -> ForwardMsg:
        message = ForwardMsg()
        message.ParseFromString(self._socket.recv(timeout=TIMEOUT_S))
        return message

    def _take(self, message: ForwardMsg) -> None:
        match message.WhichOneof("type"):
            case "new_session":
                self._session = message.new_session.initialize.session_id or self._session
                self._page_hash = message.new_session.page_script_hash
                self._elements = {}
            case "page_info_changed":
                self.query = message.page_info_changed.query_string
            case "delta":
                place = tuple(message.metadata.delta_path)
                if message.delta.WhichOneof("type") == "new_element":
                    element = self._elements[place] = message.delta.new_element
                    if element.WhichOneof("type") == "html":
                        self.told.append(element.html.body)
                        self.told_at_s.append(time.perf_counter())
                elif message.delta.WhichOneof("type") == "add_block":
                    self._elements.pop(place, None)
