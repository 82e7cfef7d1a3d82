"""The printed sheet, printed or hung otherwise than it should be.

Each print hangs where the base's own sheet hung, in its perspective.
"""

from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.depth import placed_card
from calibration.doubtful.look_alikes.drawing import bare_wall, blank, on_wall, paint
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, said
from pose_fit.body.body import Body
from pose_fit.reference.printed_sheet import sheet_image
from pose_fit.reference.request import ReferenceRequest

__all__ = ["SHEETS", "printed"]

_Pixels = NDArray[np.uint8]
#: Texels in a millimetre of the page.
_FINE: Final = 4.0
_INK: Final = 24.0
_PAPER: Final = np.array([230.0, 229, 224])
#: How far the halves of the torn sheet hang apart, millimetres.
_TORN_MM: Final = 64.0


def printed(kind: Literal["letter", "a4"] = "a4") -> _Pixels:
    """The page as a texture, as light as paper and as dark as toner."""
    page = sheet_image(paper=kind, px_per_mm=_FINE)[..., None] / 255.0
    colour = _INK + page * (_PAPER - _INK)
    return np.dstack([colour, np.full(page.shape[:2], 255)]).astype(np.uint8)


def _hung(base: str, page: _Pixels, *, across: float = 1.0, down: float = 1.0) -> Change:
    """The page in the sheet’s place, enlarged by so much."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = bare_wall(pixels, base, body)
        return _with_page(out, base, page, body, (0.0, 0.0), (across, down))

    return change


def _with_page(
    pixels: _Pixels,
    base: str,
    page: _Pixels,
    body: Body,
    middle_mm: tuple[float, float],
    scale: tuple[float, float] = (1.0, 1.0),
) -> _Pixels:
    height, width = page.shape[:2]
    size = (scale[0] * width / _FINE, scale[1] * height / _FINE)
    left, top = middle_mm[0] - size[0] / 2, middle_mm[1] - size[1] / 2
    corners = [[left, top, 0], [left + size[0], top, 0]]
    corners += [[left + size[0], top + size[1], 0], [left, top + size[1], 0]]
    return paint(pixels, page, placed_card(base, page, corners), child=body, shadow=0.3)


def _on_tablet(base: str) -> Change:
    """The page on a tablet’s screen, with a dark rim and some glare."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        page = cv2.resize(printed(), (600, 848), interpolation=cv2.INTER_AREA)
        glare = np.linspace(1.06, 0.98, 848)[:, None, None] * np.linspace(0.98, 1.08, 600)[:, None]
        page[..., :3] = np.clip(page[..., :3] * glare * [0.98, 1.02, 1.08], 0, 255)
        tablet = blank(680, 928, (22, 22, 24))
        tablet[40:888, 40:640] = page
        rounded = np.zeros((928, 680), np.uint8)
        cv2.rectangle(rounded, (30, 0), (649, 927), (255,), cv2.FILLED)
        cv2.rectangle(rounded, (0, 30), (679, 897), (255,), cv2.FILLED)
        for x in (30, 649):
            for y in (30, 897):
                cv2.circle(rounded, (x, y), 30, (255,), cv2.FILLED, cv2.LINE_AA)
        tablet[..., 3] = rounded
        out = bare_wall(pixels, base, body)
        placed = on_wall(base, -85, -116, mm_per_texel=0.25)
        return paint(out, tablet, placed, child=body, shadow=0.45, lit=False)

    return change


def _torn(base: str) -> Change:
    """Two halves that hang too far apart."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        page = printed()
        height, width = page.shape[:2]
        edge = height / 2 + 9 * np.sin(np.arange(width) / 37) + 5 * np.sin(np.arange(width) / 11)
        below = np.arange(height)[:, None] > edge[None]
        out = bare_wall(pixels, base, body)
        for is_low, part in ((False, ~below), (True, below)):
            half = page.copy()
            half[..., 3] = np.where(part, 255, 0)
            fall = _TORN_MM / 2 if is_low else -_TORN_MM / 2
            out = _with_page(out, base, half, body, (0.0, fall))
        return out

    return change


def _note_over_corner(base: str) -> Change:
    """A yellow note over one of the four marks."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        note = blank(76, 76, (236, 212, 92))
        note[..., :3] = note[..., :3] * np.linspace(1.0, 0.9, 76)[:, None, None]
        placed = on_wall(base, 14, 18)
        return paint(pixels, note, placed, child=body, shadow=0.25)

    return change


def _round_a_corner(base: str) -> Change:
    """The sheet’s right half bent off the wall, as round the edge of a cupboard."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        page = printed("letter")
        height, width = page.shape[:2]
        half, tall = width / 2 / _FINE, height / 2 / _FINE
        out_by = half * np.array([np.cos(np.radians(48)), -np.sin(np.radians(48))])
        out = bare_wall(pixels, base, body, from_mm=(0.0, -420.0))
        left = page[:, : width // 2]
        right = page[:, width // 2 :].copy()
        right[..., :3] = (0.84 * right[..., :3]).astype(np.uint8)
        flat = [[-half, -tall, 0], [0, -tall, 0], [0, tall, 0], [-half, tall, 0]]
        bent = [[0, -tall, 0], [out_by[0], -tall, out_by[1]]]
        bent += [[out_by[0], tall, out_by[1]], [0, tall, 0]]
        out = paint(out, left, placed_card(base, left, flat), child=body, shadow=0.3)
        return paint(out, right, placed_card(base, right, bent), child=body, shadow=0.3)

    return change


_NUMBER: Final = "number with a word"
SHEETS: Final[tuple[LookAlike, ...]] = (
    LookAlike(
        "sheet printed at 71 %",
        "flat_1",
        _hung("flat_1", printed(), across=0.707, down=0.707),
        may_say="no number",
    ),
    LookAlike(
        "sheet stretched in height",
        "flat_5",
        _hung("flat_5", printed(), down=1.2),
        may_say="no number",
    ),
    LookAlike("sheet on a tablet’s screen", "flat_7", _on_tablet("flat_7"), may_say="no number"),
    LookAlike(
        "sheet hung upside down",
        "flat_2",
        _hung("flat_2", np.ascontiguousarray(printed("letter")[::-1, ::-1])),
        may_say="a right number",
    ),
    LookAlike("sheet torn, its halves apart", "flat_4", _torn("flat_4"), may_say="no number"),
    LookAlike(
        "a note over one mark", "flat_8", _note_over_corner("flat_8"), may_say="a right number"
    ),
    LookAlike(
        "sheet bent round an edge",
        "sheet_2",
        _round_a_corner("sheet_2"),
        request=said(ReferenceRequest("sheet")),
        may_say=_NUMBER,
    ),
)
