"""Files are written whole or not at all: a reader never meets half of one.

A full disk, a signal or a loss of power leaves what stood there before.
"""

import errno
import os
import secrets
import stat
import sys
import time
from pathlib import Path
from typing import Final

from pose_fit.errors import OutputError, printable

__all__ = ["cannot_write", "check_ending", "write_whole"]

#: How long the reader of a pipe has to come.
_READER_PATIENCE_S: Final = 2.0


def write_whole(path: str | Path, data: bytes) -> None:
    """Write a file under a passing name beside its place, then put it there in one step.

    A link's target is replaced, not the link, and a file keeps its permissions. What is no
    file (``/dev/stdout``, a pipe that somebody reads) is written straight. Only a process killed half way leaves
    something behind: a hidden file that ends with ``.part``.

    Raises
    ------
    OutputError
        The folder is missing or read-only, the disk is full, the path is a folder or a file
        that may not be written; the text names the path.
    """
    try:
        _write(Path(path), data)
    except (OSError, ValueError) as fault:
        raise cannot_write(path, fault) from fault


def check_ending(path: Path, ending: str) -> None:
    """Raise where a file's name hides what it holds; a pipe or a device may have any name.

    Raises
    ------
    OutputError
        The name ends otherwise.
    """
    # A name too long for the system is no pipe, and writing to it says why it cannot be.
    if path.suffix.lower() != ending and (os.path.isfile(path) or not os.path.exists(path)):
        found = repr(path.suffix) if path.suffix else "none"
        raise OutputError(f"{printable(path)}: wanted a name that ends in {ending}, found {found}")


def cannot_write(path: str | Path, fault: OSError | ValueError) -> OutputError:
    """The error that tells which file cannot be written, and why."""
    reason = getattr(fault, "strerror", None) or fault
    return OutputError(f"{printable(path)}: cannot be written ({reason})")


def _write(path: Path, data: bytes) -> None:
    try:
        there = path.stat()
    except FileNotFoundError:
        there = None
    if there is not None and not stat.S_ISREG(there.st_mode):
        if stat.S_ISFIFO(there.st_mode):
            _write_to_pipe(path, data)
        else:
            path.write_bytes(data)
        return
    path = Path(os.path.realpath(path))
    if there is not None:
        # Taking a file's place asks nothing of the file itself; a protected one stays protected.
        os.close(os.open(path, os.O_WRONLY))
    part = path.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with open(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666), "wb") as file:
            if there is not None:
                os.chmod(part, stat.S_IMODE(there.st_mode))
            file.write(data)
            file.flush()
            # A full disk may come to light only here.
            os.fsync(file.fileno())
        os.replace(part, path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _write_to_pipe(path: Path, data: bytes) -> None:
    """Write to whoever reads, or fail where nobody comes, instead of waiting without end."""
    if sys.platform == "win32":
        # Its folders hold no pipes.
        path.write_bytes(data)
        return
    until_s = time.monotonic() + _READER_PATIENCE_S
    while True:
        try:
            pipe = os.open(path, os.O_WRONLY | os.O_NONBLOCK)
            break
        except OSError as fault:
            if fault.errno != errno.ENXIO or time.monotonic() > until_s:
                raise
            time.sleep(0.02)
    os.set_blocking(pipe, True)
    with open(pipe, "wb") as file:
        file.write(data)
