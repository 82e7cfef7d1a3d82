"""The sample pictures that come with the project."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

__all__ = ["SAMPLE_FOLDER", "Sample", "samples"]

#: Beside the package in a clone; an installed package has none, and offers none.
SAMPLE_FOLDER: Final = Path(__file__).parents[3] / "sample_images"
_KIND_WORDS: Final = {
    "sheet": "the printed sheet",
    "letter": "Letter paper",
    "a4": "A4 paper",
    "door": "a door",
    "wheel": "a bicycle wheel",
    "length": "a known length",
}


@dataclass(frozen=True, slots=True)
class Sample:
    """A rendered picture and what is true of it."""

    path: Path
    truth: dict[str, Any]

    @property
    def title(self) -> str:
        """A few words for a list."""
        kind = self.truth["reference"]
        return (
            f"Child of {self.truth['age_years']:.0f} beside {_KIND_WORDS[kind]} ({self.path.stem})"
        )


def samples() -> tuple[Sample, ...]:
    """The sample pictures, none where the project's folder is not there."""
    found = []
    for path in sorted(SAMPLE_FOLDER.glob("*.jpg")):
        facts = path.with_suffix(".json")
        if facts.is_file():
            found.append(Sample(path, json.loads(facts.read_text(encoding="utf-8"))))
    kinds = list(_KIND_WORDS)
    return tuple(sorted(found, key=lambda sample: kinds.index(sample.truth["reference"])))
