"""The app listens on this machine only, and is told the same by either way of starting it."""

import os
import socket
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from pose_fit.app.serve import ENTRY, SERVER, command
from pose_fit.app.settings import SETTINGS

from .served_app import free_port

CONFIG = Path(__file__).parents[2] / ".streamlit" / "config.toml"


def test_the_command_runs_the_packages_entry_on_loopback_without_statistics():
    call = command(port=8777)
    assert call[:4] == [sys.executable, "-m", "streamlit", "run"]
    assert Path(call[4]) == SERVER
    assert SERVER.is_file()
    assert ENTRY.is_file()
    assert "--server.address=127.0.0.1" in call
    assert "--server.port=8777" in call
    assert "--browser.gatherUsageStats=false" in call


def test_the_configuration_file_says_what_the_command_says():
    groups = tomllib.loads(CONFIG.read_text(encoding="utf-8"))
    assert dict(flat(groups)) == SETTINGS


def flat(groups: dict[str, Any], path: str = "") -> Iterator[tuple[str, Any]]:
    for name, value in groups.items():
        if isinstance(value, dict):
            yield from flat(value, f"{path}{name}.")
        else:
            yield f"{path}{name}", value


def test_it_answers_on_loopback_only_and_stopping_the_command_stops_the_server():
    port = free_port()
    call = [
        sys.executable,
        "-c",
        f"from pose_fit.cli.main import app; app(['app', '--port', '{port}'])",
    ]
    environment = os.environ | {"STREAMLIT_SERVER_HEADLESS": "true"}
    with subprocess.Popen(call, env=environment, stdout=subprocess.DEVNULL) as served:
        try:
            wait_until(lambda: answers("127.0.0.1", port))
            # Every address in 127.0.0.0/8 is this machine, but only one of them is listened on.
            assert not answers("127.0.0.2", port)
        finally:
            served.terminate()
        served.wait(timeout=30)
    wait_until(lambda: not answers("127.0.0.1", port))


def answers(host: str, port: int) -> bool:
    try:
        with socket.create_connection((host, port), timeout=1):
            return True
    except OSError:
        return False


def wait_until(done: Callable[[], bool]) -> None:
    for _ in range(300):
        if done():
            return
        time.sleep(0.2)
    pytest.fail("waited for a minute in vain")
