"""How MediaPipe is loaded: quietly, and without what its drawing and recording parts bring."""

import contextlib
import os
import sys
from collections.abc import Iterator
from types import ModuleType
from typing import Final

__all__ = ["loading_mediapipe", "quiet_stderr"]

#: MediaPipe imports these for drawings and recordings that are not made here. They take 0.3 s and
#: 30 MB, three quarters of its import.
_UNUSED: Final = ("matplotlib", "matplotlib.pyplot", "sounddevice")


@contextlib.contextmanager
def loading_mediapipe() -> Iterator[None]:
    """Import and start MediaPipe within this: what it does not need stays out, and it says nothing."""
    os.environ.setdefault("GLOG_minloglevel", "2")
    empty = {name: ModuleType(name) for name in _UNUSED if name not in sys.modules}
    sys.modules.update(empty)
    try:
        with quiet_stderr():
            yield
    finally:
        # Whoever else wants them gets the true ones.
        for name, module in empty.items():
            if sys.modules.get(name) is module:
                del sys.modules[name]


@contextlib.contextmanager
def quiet_stderr() -> Iterator[None]:
    """Send the process's standard error to nowhere: the native library greets there."""
    sys.stderr.flush()
    saved = os.dup(2)
    try:
        with open(os.devnull, "w") as nowhere:
            os.dup2(nowhere.fileno(), 2)
        yield
    finally:
        os.dup2(saved, 2)
        os.close(saved)
