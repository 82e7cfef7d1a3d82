"""Text that people typed: made storable, bounded, and comparable for searching."""

import re
import unicodedata
from typing import Final

from pose_fit.errors import CaseBookError

__all__ = ["LABEL_LENGTH", "NAME_LENGTH", "NOTE_LENGTH", "clean_text", "folded_text", "needed_text"]

#: Longest label of a case, name of a person, and note, in characters.
LABEL_LENGTH: Final = 200
NAME_LENGTH: Final = 100
NOTE_LENGTH: Final = 4000

#: Control characters but tab and line feed (PostgreSQL stores no NUL), and lone surrogates,
#: which no encoding can hold.
_UNSTORABLE: Final = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")


def clean_text(text: str, *, what: str, longest: int) -> str:
    """The text without outer blanks and unstorable characters.

    Raises
    ------
    CaseBookError
        The text is longer than ``longest`` characters; ``what`` names it.
    """
    clean = _UNSTORABLE.sub(" ", text.replace("\r\n", "\n")).strip()
    if len(clean) > longest:
        raise CaseBookError(f"{what}: wanted at most {longest} characters, found {len(clean)}")
    return clean


def needed_text(text: str, *, what: str, longest: int) -> str:
    """As :func:`clean_text`, and not empty."""
    clean = clean_text(text, what=what, longest=longest)
    if not clean:
        raise CaseBookError(f"{what}: wanted some text, found none")
    return clean


def folded_text(text: str) -> str:
    """The text as it is searched: compatibility-normalised, case folded, blanks collapsed."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())
