"""Type for the PDF: Helvetica, and for letters it lacks, faces that have them.

Helvetica is one of the standard faces that every reader has (ISO 32000-1, 9.6.2.2), with the
letters of Windows' code page 1252. Others come from DejaVu Sans, which matplotlib brings and
which is embedded; Chinese, Japanese and Korean from the Adobe faces that readers supply
themselves (ISO 32000-1, 9.7.5).
"""

import importlib.util
import itertools
import unicodedata
from functools import cache
from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.cidfonts import UnicodeCIDFont
from reportlab.pdfbase.ttfonts import TTFont

__all__ = ["BOLD", "DEJAVU", "DEJAVU_BOLD", "REGULAR", "dejavu_path", "marked_up"]

REGULAR: Final = "Helvetica"
BOLD: Final = "Helvetica-Bold"
DEJAVU: Final = "CardDejaVu"
DEJAVU_BOLD: Final = "CardDejaVuBold"
_FILES: Final = {DEJAVU: "DejaVuSans.ttf", DEJAVU_BOLD: "DejaVuSans-Bold.ttf"}
#: By the start of a letter's Unicode name.
_EAST_ASIAN: Final = {
    "HIRAGANA": "HeiseiKakuGo-W5",
    "KATAKANA": "HeiseiKakuGo-W5",
    "HANGUL": "HYGothic-Medium",
    "CJK": "STSong-Light",
}


def dejavu_path(*, bold: bool) -> Path | None:
    """DejaVu Sans among matplotlib's files, found without importing it; None if it is not there."""
    found = importlib.util.find_spec("matplotlib")
    if found is None or not found.submodule_search_locations:
        return None
    folder = Path(found.submodule_search_locations[0]) / "mpl-data" / "fonts" / "ttf"
    path = folder / _FILES[DEJAVU_BOLD if bold else DEJAVU]
    return path if path.is_file() else None


def marked_up(text: str, *, bold: bool = False) -> str:
    """The text for a reportlab paragraph: escaped, its letters in faces that have them."""
    composed = unicodedata.normalize("NFC", text)
    parts = []
    for face, letters in itertools.groupby(composed, key=lambda letter: _face(letter, bold)):
        run = escape("".join(letters))
        parts.append(f'<font name="{face}">{run}</font>' if face else run)
    return "".join(parts)


@cache
def _face(letter: str, bold: bool) -> str:
    """Name of the face for a letter; empty for the paragraph's own."""
    try:
        letter.encode("cp1252")
    except UnicodeEncodeError:
        pass
    else:
        return ""
    face = _dejavu(bold)
    if face is not None and ord(letter) in face.face.charToGlyph:
        name: str = face.fontName
        return name
    script = unicodedata.name(letter, "").partition(" ")[0]
    if script in _EAST_ASIAN:
        return _east_asian(_EAST_ASIAN[script])
    # Its box for a missing letter, or Helvetica's.
    return "" if face is None else str(face.fontName)


@cache
def _dejavu(bold: bool) -> TTFont | None:
    path = dejavu_path(bold=bold)
    if path is None:
        return None
    face = TTFont(DEJAVU_BOLD if bold else DEJAVU, str(path))
    pdfmetrics.registerFont(face)
    return face


@cache
def _east_asian(name: str) -> str:
    pdfmetrics.registerFont(UnicodeCIDFont(name))
    return name
