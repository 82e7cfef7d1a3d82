"""The real pictures: which public repository has each, and what is seen in it.

None of them is part of this repository: they are copied out of clones that somebody made.
"""

import csv
import subprocess
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

__all__ = ["SEVERAL", "STANDING", "Picture", "collect", "pictures"]

#: What is seen: one person who stands, both feet in the picture; one whose legs are cut off; one
#: who sits, jumps, runs or bends; several people; nobody.
STANDING: Final = "one standing"
SEVERAL: Final = "several"
_SEEN: Final = (STANDING, "one, legs cut off", "one, not standing", SEVERAL, "none")


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture of a public repository."""

    repository: str
    path: str
    seen: str

    @property
    def file(self) -> str:
        """Its file name in the folder of all pictures."""
        return f"{self.repository}/{self.path}".replace("/", "__").replace(" ", "_")


@cache
def pictures() -> tuple[Picture, ...]:
    """The list, in its order: even places were looked at while limits were chosen."""
    with Path(__file__).with_name("pictures.csv").open(encoding="utf-8", newline="") as file:
        found = tuple(Picture(**row) for row in csv.DictReader(file))
    unknown = {picture.seen for picture in found} - set(_SEEN)
    if unknown:
        raise ValueError(f"pictures.csv: wanted one of {_SEEN} as seen, found {unknown}")
    return found


def collect(clones: Path, photos: Path) -> list[Picture]:
    """Copy the pictures out of the clones (CLONES/OWNER/NAME); returns those that are missing."""
    photos.mkdir(parents=True, exist_ok=True)
    missing = []
    for picture in pictures():
        shown = subprocess.run(
            ["git", "-C", clones / picture.repository, "show", f"HEAD:{picture.path}"],
            capture_output=True,
            check=False,
        )
        if shown.returncode:
            missing.append(picture)
        else:
            (photos / picture.file).write_bytes(shown.stdout)
    return missing
