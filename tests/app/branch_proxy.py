"""A proxy before several processes of the app: all of a visit goes to the first that answers."""

import socket
import threading
from collections.abc import Sequence
from contextlib import suppress

__all__ = ["BranchProxy"]


class BranchProxy:
    """Forwards connections to the first port of ``ports`` that takes them; stands for a real one."""

    def __init__(self, ports: Sequence[int]) -> None:
        self.ports = list(ports)
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.port: int = self._listening.getsockname()[1]
        threading.Thread(target=self._accept, daemon=True).start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def close(self) -> None:
        self._listening.close()

    def _accept(self) -> None:
        with suppress(OSError):
            while True:
                visitor, _ = self._listening.accept()
                threading.Thread(target=self._serve, args=(visitor,), daemon=True).start()

    def _serve(self, visitor: socket.socket) -> None:
        for port in self.ports:
            try:
                process = socket.create_connection(("127.0.0.1", port), timeout=5)
            except OSError:
                continue
            process.settimeout(None)
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
