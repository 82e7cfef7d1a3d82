"""Run the app with Streamlit, on this machine only."""

import subprocess
import sys
from pathlib import Path
from typing import Final

from pose_fit.pages.settings import SETTINGS

__all__ = ["ENTRY", "command", "serve"]

#: The script Streamlit runs; it lies in the package, so an installed app needs no other file.
ENTRY: Final = Path(__file__).with_name("entry.py")


def command(*, port: int) -> list[str]:
    """The call that serves the app on a port of this machine."""
    options = [f"--{name}={_option(value)}" for name, value in SETTINGS.items()]
    python = [sys.executable, "-m", "streamlit", "run", str(ENTRY)]
    return [*python, f"--server.port={port}", *options]


def serve(*, port: int) -> int:
    """Serve the app until it is stopped; the exit code of the server.

    Opens the browser, unless ``STREAMLIT_SERVER_HEADLESS=true`` is set.
    """
    server = subprocess.Popen(command(port=port))
    try:
        return server.wait()
    except KeyboardInterrupt:
        # The terminal has sent the same signal to the server, which is closing.
        server.wait()
        return 0
    finally:
        if server.poll() is None:
            server.terminate()


def _option(value: str | int | bool) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)
