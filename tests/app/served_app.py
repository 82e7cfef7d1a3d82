"""The app in a process of its own, on a free port of this machine."""

import os
import socket
import subprocess
import time
import urllib.request
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import IO

from pose_fit.app.serve import SERVER, command
from pose_fit.workers.worker_process import LESS_MEMORY

__all__ = ["ServedApp", "served_app"]

START_S = 60.0
_NOTHING: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True)
class ServedApp:
    """Where the app answers, and its process."""

    port: int
    pid: int

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"


@contextmanager
def served_app(
    environment: Mapping[str, str] = _NOTHING,
    *,
    output: IO[str] | int = subprocess.DEVNULL,
    script: Path | None = None,
) -> Iterator[ServedApp]:
    """The app, once it answers, until the block ends; ``TimeoutError`` if it does not.

    ``script`` is run in place of the package's own server.
    """
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    call = [str(script) if script and word == str(SERVER) else word for word in command(port=port)]
    with subprocess.Popen(
        call,
        env={**os.environ, **LESS_MEMORY, "STREAMLIT_SERVER_HEADLESS": "true", **environment},
        stdout=output,
        stderr=output,
    ) as server:
        try:
            app = ServedApp(port, server.pid)
            _wait_for(f"{app.url}/_stcore/health")
            yield app
        finally:
            server.terminate()


def _wait_for(url: str) -> None:
    until_s = time.monotonic() + START_S
    while time.monotonic() < until_s:
        try:
            with urllib.request.urlopen(url):
                return
        except OSError:
            time.sleep(0.05)
    raise TimeoutError(f"the app did not answer at {url} within {START_S:.0f} s")
