"""Run the app with Streamlit, on this machine only."""

import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Final

from pose_fit.app.settings import SETTINGS
from pose_fit.workers.worker_process import LESS_MEMORY

__all__ = ["ENTRY", "SERVER", "command", "serve"]

#: The script Streamlit runs; it lies in the package, so an installed app needs no other file.
ENTRY: Final = Path(__file__).with_name("entry.py")
#: The server around it.
SERVER: Final = Path(__file__).with_name("server.py")


def command(*, port: int) -> list[str]:
    """The call that serves the app on a port of this machine."""
    options = [f"--{name}={_option(value)}" for name, value in SETTINGS.items()]
    python = [sys.executable, "-m", "streamlit", "run", str(SERVER)]
    return [*python, f"--server.port={port}", *options]


def serve(*, port: int) -> int:
    """Serve the app until it is stopped; the exit code of the server.

    Opens the browser, unless ``STREAMLIT_SERVER_HEADLESS=true`` is set.
    """
    server = subprocess.Popen(command(port=port), env={**os.environ, **LESS_MEMORY})
    # Whoever stops this process stops the server, instead of leaving it behind.
    signal.signal(signal.SIGTERM, lambda *_: server.terminate())
    try:
        return server.wait()
    except KeyboardInterrupt:
        # The terminal has sent the same signal to the server, which is closing.
        return server.wait()


def _option(value: str | int | bool) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)
