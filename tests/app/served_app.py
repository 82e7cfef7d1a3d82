"""The app in a process of its own, on a free port of this machine."""

import os
import random
import signal
import socket
import subprocess
import time
import urllib.request
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import IO

from pose_fit.app.serve import SERVER, command
from pose_fit.workers.worker_process import LESS_MEMORY

__all__ = ["ServedApp", "free_port", "served_app"]

START_S = 60.0
_NOTHING: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True)
class ServedApp:
    """Where the app answers, and its process."""

    port: int
    pid: int

    def kill(self) -> None:
        """End its process at once, and wait until nothing answers there."""
        os.kill(self.pid, signal.SIGKILL)
        until_s = time.monotonic() + START_S
        while _answers(self.port):
            if time.monotonic() > until_s:
                raise TimeoutError(f"port {self.port} answers after its process was killed")
            time.sleep(0.05)

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
    port = free_port()
    call = [str(script) if script and word == str(SERVER) else word for word in command(port=port)]
    with subprocess.Popen(
        call,
        env={**os.environ, **LESS_MEMORY, "STREAMLIT_SERVER_HEADLESS": "true", **environment},
        stdout=output,
        stderr=output,
    ) as server:
        try:
            app = ServedApp(port, server.pid)
            _wait_for(f"{app.url}/_stcore/health", server)
            yield app
        finally:
            server.terminate()
            try:
                server.wait(START_S)
            except subprocess.TimeoutExpired:
                server.kill()


def free_port() -> int:
    """A port that nobody listens at and that no connection is given by chance.

    The system gives ports above 32767 to whoever connects, so one of those may be taken between
    being found free and the start of the server.
    """
    for port in random.sample(range(10_000, 32_000), 100):
        with socket.socket() as probe, suppress(OSError):
            probe.bind(("127.0.0.1", port))
            return port
    raise OSError("no free port between 10000 and 32000")


def _answers(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def _wait_for(url: str, server: subprocess.Popen[bytes]) -> None:
    until_s = time.monotonic() + START_S
    while time.monotonic() < until_s:
        if server.poll() is not None:
            raise OSError(f"the app ended with {server.returncode} before it answered at {url}")
        try:
            with urllib.request.urlopen(url):
                return
        except OSError:
            time.sleep(0.05)
    raise TimeoutError(f"the app did not answer at {url} within {START_S:.0f} s")
