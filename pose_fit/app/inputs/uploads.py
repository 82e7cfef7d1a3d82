"""The sample pictures that come with the project."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from pose_fit.app.texts.form_texts import SAMPLES
from pose_fit.app.texts.language import in_language

__all__ = ["SAMPLE_FOLDER", "Sample", "samples"]

#: Beside the package in a clone; an installed package has none, and offers none.
SAMPLE_FOLDER: Final = Path(__file__).parents[3] / "sample_images"
#: In this order they are offered.
_KINDS: Final = ("sheet", "letter", "a4", "door", "wheel", "length")


@dataclass(frozen=True, slots=True)
class Sample:
    """A rendered picture and what is true of it."""

    path: Path
    truth: dict[str, Any]

    @property
    def title(self) -> str:
        """A few words for a list."""
        say = in_language(SAMPLES)
        return say.title.format(
            age=f"{self.truth['age_years']:.0f}",
            kind=say.kinds[self.truth["reference"]],
            name=self.path.stem,
        )


def samples() -> tuple[Sample, ...]:
    """The sample pictures, none where the project's folder is not there."""
    found = []
    for path in sorted(SAMPLE_FOLDER.glob("*.jpg")):
        facts = path.with_suffix(".json")
        if facts.is_file():
            found.append(Sample(path, json.loads(facts.read_text(encoding="utf-8"))))
    return tuple(sorted(found, key=lambda sample: _KINDS.index(sample.truth["reference"])))
