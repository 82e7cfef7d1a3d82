"""The command line as a process of its own, and pictures that can be measured in every form."""

import json
import os
import subprocess
import sys
from pathlib import Path

__all__ = ["ROOT", "SAMPLE", "SAMPLE_WORDS", "TRUE_MM", "child", "pose_fit", "without_root_rights"]

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_images" / "sheet_2.jpg"
_FACTS = json.loads(SAMPLE.with_suffix(".json").read_text(encoding="utf-8"))
TRUE_MM: float = _FACTS["inseam_mm"]
SAMPLE_WORDS: tuple[str, ...] = tuple(_FACTS["arguments"])
_MAIN = "from pose_fit.cli.main import main; main()"
#: Root writes where it may not, unless it has given these away.
_DROP = ("setpriv", "--bounding-set=-dac_override,-dac_read_search,-fowner")


def child(code: str, *words: object, before: tuple[str, ...] = (), **options: object):
    """A Python process of its own that runs the code; its output is text."""
    return subprocess.run(
        [*before, sys.executable, "-W", "error", "-c", code, *(os.fspath(str(w)) for w in words)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        **options,
    )


def pose_fit(*words: object, first: str = "", **options: object):
    """``pose-fit`` in a process of its own, after the code ``first``."""
    return child(f"{first}\n{_MAIN}", *words, **options)


def without_root_rights() -> tuple[str, ...]:
    """Words before a command for which a protected folder is protected, also for root."""
    return _DROP if os.geteuid() == 0 else ()
