"""The app listens on this machine only, and is told the same by either way of starting it."""

import sys
import tomllib
from pathlib import Path

from pose_fit.pages.serve import ENTRY, command
from pose_fit.pages.settings import SETTINGS

CONFIG = Path(__file__).parents[2] / ".streamlit" / "config.toml"


def test_the_command_runs_the_packages_entry_on_loopback_without_statistics():
    call = command(port=8777)
    assert call[:4] == [sys.executable, "-m", "streamlit", "run"]
    assert Path(call[4]) == ENTRY
    assert ENTRY.is_file()
    assert "--server.address=127.0.0.1" in call
    assert "--server.port=8777" in call
    assert "--browser.gatherUsageStats=false" in call


def test_the_configuration_file_says_what_the_command_says():
    groups = tomllib.loads(CONFIG.read_text(encoding="utf-8"))
    flat = {f"{group}.{name}": value for group, d in groups.items() for name, value in d.items()}
    assert flat == SETTINGS
