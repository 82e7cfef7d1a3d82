"""A panel with the value, the marks' meaning and the scale, placed where the picture is empty."""

import importlib.util
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray
from PIL import ImageDraw, ImageFont

__all__ = ["Colour", "Entry", "Sign", "draw_legend", "lettering"]

Colour = tuple[int, int, int]
Sign = Literal["text", "line", "band", "joints", "cross", "box", "diamond", "scale"]

_GROUND: Final = (255, 255, 255, 224)
_INK: Final = (23, 37, 43, 255)
#: Height of the letters, share of the picture's shorter side: legible at the width of a phone.
_LETTER_SHARE: Final = 1 / 36


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the panel: a sign in its colour, and words.

    ``length_px`` is that of a scale bar.
    """

    sign: Sign
    colour: Colour
    words: str
    length_px: float = 0.0

    def indent_px(self, tall: float) -> float:
        """Where the words begin, from the left of the entry, in a line of this height."""
        match self.sign:
            case "text":
                return 0.0
            case "scale":
                return self.length_px + 0.4 * tall
        return 2.2 * tall


def lettering(size_px: tuple[int, int]) -> ImageFont.FreeTypeFont:
    """The face for a picture of this width and height."""
    return ImageFont.truetype(_face_path(), size=max(11.0, min(size_px) * _LETTER_SHARE))


@cache
def _face_path() -> str:
    """Bitstream Vera among reportlab's files, found without importing it.

    Pillow's own face lacks the accents of Spanish.
    """
    found = importlib.util.find_spec("reportlab")
    assert found is not None
    assert found.submodule_search_locations
    return str(Path(found.submodule_search_locations[0], "fonts", "Vera.ttf"))


def draw_legend(
    draw: ImageDraw.ImageDraw,
    size_px: tuple[int, int],
    entries: Sequence[Entry],
    busy_px: NDArray[np.float64],
) -> None:
    """Draw the panel where it hides least: in a corner, or in two columns along the top or foot.

    Parameters
    ----------
    size_px
        Width and height of the picture.
    busy_px
        (N, 2) array of points that should stay in sight.
    """
    face = lettering(size_px)
    tall = face.getbbox("Ag")[3] * 1.35
    wide = max(draw.textlength(entry.words, font=face) + entry.indent_px(tall) for entry in entries)
    wide += 0.8 * tall
    columns, corner, panel = _place(size_px, len(entries), (wide, tall), busy_px)
    left, top = corner
    draw.rounded_rectangle((left, top, left + panel[0], top + panel[1]), tall * 0.3, fill=_GROUND)
    rows = -(-len(entries) // columns)
    for place, entry in enumerate(entries):
        start = left + (place // rows) * wide + 0.4 * tall
        middle = top + tall * (place % rows + 0.8)
        _draw_sign(draw, entry, (start, middle), tall)
        words_at = start + entry.indent_px(tall), middle
        draw.text(words_at, entry.words, fill=_INK, font=face, anchor="lm")


def _place(
    size_px: tuple[int, int],
    count: int,
    line: tuple[float, float],
    busy_px: NDArray[np.float64],
) -> tuple[int, tuple[float, float], tuple[float, float]]:
    """Number of columns, upper left corner and size of the panel that hides the fewest points."""
    wide, tall = line
    margin = 0.4 * tall
    choices = []
    for columns in (1, 2):
        panel = columns * wide, tall * (-(-count // columns) + 0.6)
        right, low = size_px[0] - panel[0] - margin, size_px[1] - panel[1] - margin
        if columns > 1 and right < 0:
            continue
        for corner in ((right, margin), (margin, margin), (margin, low), (right, low)):
            inside = (busy_px > corner) & (busy_px < np.add(corner, panel))
            choices.append((int(inside.all(axis=1).sum()), columns, corner, panel))
    _, columns, corner, panel = min(choices, key=lambda choice: choice[0])
    return columns, corner, panel


def _draw_sign(
    draw: ImageDraw.ImageDraw, entry: Entry, at: tuple[float, float], tall: float
) -> None:
    x, y = at
    end, thick = x + 1.8 * tall, max(2, round(tall / 8))
    solid = (*entry.colour, 255)
    reach = tall * 0.26
    middle = (x + end) / 2
    match entry.sign:
        case "text":
            return
        case "line":
            draw.line((x, y, end, y), fill=solid, width=thick)
        case "band":
            draw.rectangle((x, y - reach, end, y + reach), fill=(*entry.colour, 110))
            draw.line((x, y, end, y), fill=solid, width=thick)
        case "joints":
            draw.line((x, y, end, y), fill=solid, width=thick)
            for centre in (x + reach, end - reach):
                draw.ellipse((centre - reach, y - reach, centre + reach, y + reach), solid)
        case "cross":
            draw.line((middle - reach, y, middle + reach, y), fill=solid, width=thick)
            draw.line((middle, y - reach, middle, y + reach), fill=solid, width=thick)
        case "box":
            draw.rectangle((x, y - reach, end, y + reach), outline=solid, width=thick)
        case "diamond":
            corners = [(middle - reach, y), (middle, y - reach), (middle + reach, y)]
            draw.polygon([*corners, (middle, y + reach)], outline=solid, width=thick)
        case "scale":
            draw.line((x, y, x + entry.length_px, y), fill=_INK, width=thick)
            for tick in (x, x + entry.length_px):
                draw.line((tick, y - reach, tick, y + reach), fill=_INK, width=thick)
