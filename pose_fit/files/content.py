"""What a file holds, in short: two files of one content are one photo."""

import hashlib
from pathlib import Path

__all__ = ["content_digest"]


def content_digest(path: Path) -> bytes:
    """SHA-256 of the file.

    Raises
    ------
    OSError
        It cannot be read.
    """
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").digest()
