"""A lock on an open file that ends with the process, on every system that the program runs on."""

import sys
from typing import BinaryIO, Final

__all__ = ["lock_alone"]

#: Windows locks bytes, and may lock those that a file does not have.
_FAR: Final = 1 << 40


def lock_alone(file: BinaryIO) -> None:
    """Lock the file for this process alone, without waiting; the lock ends when it is closed.

    Raises
    ------
    OSError
        Another process has it.
    """
    if sys.platform == "win32":
        import msvcrt

        file.seek(_FAR)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
