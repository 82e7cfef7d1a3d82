"""A proxy before several processes of the app: all of a visit goes to one that answers."""

import re
import socket
import threading
import zlib
from collections.abc import Sequence
from contextlib import suppress

from pose_fit.app.visits import BROWSER_COOKIE

__all__ = ["BranchProxy"]

_COOKIE = re.compile(rf"\b{BROWSER_COOKIE}=([\w-]+)".encode())


class BranchProxy:
    """Stands for a real proxy.

    A connection goes to the first port of ``ports`` that takes it. Where they are ``shared``, each
    browser has a first port of its own, by its cookie, and so stays at one process while that lives.
    """

    def __init__(self, ports: Sequence[int], *, shared: bool = False) -> None:
        self.ports = list(ports)
        self._shared = shared
        self._listening = socket.create_server(("127.0.0.1", 0), backlog=128)
        self.port: int = self._listening.getsockname()[1]
        threading.Thread(target=self._accept, daemon=True).start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def close(self) -> None:
        self._listening.close()

    def first_port(self, cookies: str) -> int:
        """Where a browser with these cookies goes first."""
        return self._order(cookies.encode())[0]

    def _order(self, head: bytes) -> list[int]:
        found = _COOKIE.search(head)
        start = zlib.crc32(found[1]) % len(self.ports) if self._shared and found else 0
        return self.ports[start:] + self.ports[:start]

    def _accept(self) -> None:
        with suppress(OSError):
            while True:
                visitor, _ = self._listening.accept()
                threading.Thread(target=self._serve, args=(visitor,), daemon=True).start()

    def _serve(self, visitor: socket.socket) -> None:
        head = b""
        with suppress(OSError):
            while self._shared and b"\r\n\r\n" not in head and (data := visitor.recv(65536)):
                head += data
        for port in self._order(head):
            try:
                process = socket.create_connection(("127.0.0.1", port), timeout=5)
            except OSError:
                continue
            process.settimeout(None)
            with suppress(OSError):
                process.sendall(head)
            back = threading.Thread(target=_copy, args=(process, visitor), daemon=True)
            back.start()
            _copy(visitor, process)
            return
        visitor.close()


def _copy(source: socket.socket, target: socket.socket) -> None:
    with suppress(OSError):
        while data := source.recv(65536):
            target.sendall(data)
    for end in (source, target):
        with suppress(OSError):
            end.shutdown(socket.SHUT_RDWR)
        end.close()
