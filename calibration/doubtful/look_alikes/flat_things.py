"""Flat things of another size than the paper that was said, and real paper turned on its side."""

from collections.abc import Callable
from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.depth import seen_px
from calibration.doubtful.look_alikes.drawing import bare_wall, blank, on_wall, paint
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, MaySay, said
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["FLAT_THINGS"]

_Pixels = NDArray[np.uint8]
_Paper = Literal["letter", "a4"]
_WHITE: Final = (230, 228, 223)


def _clipboard() -> _Pixels:
    """A brown board with a smaller page and a steel clip, two texels a millimetre."""
    board = blank(470, 660, (116, 78, 48))
    grain = np.random.default_rng(4).normal(0, 5, (660, 470, 1))
    board[..., :3] = np.clip(board[..., :3] + grain, 0, 255).astype(np.uint8)
    cv2.rectangle(board, (42, 62), (428, 628), (*_WHITE, 255), cv2.FILLED)
    for row in range(120, 600, 26):
        cv2.line(board, (70, row), (400 - 37 * (row % 4), row), (150, 152, 160, 255), 2)
    cv2.rectangle(board, (150, 10), (320, 74), (168, 170, 174, 255), cv2.FILLED)
    cv2.rectangle(board, (150, 60), (320, 74), (110, 112, 116, 255), cv2.FILLED)
    return board


def _exercise_book() -> _Pixels:
    """An open exercise book with ruled lines and a fold, two texels a millimetre."""
    book = blank(704, 500, (234, 232, 226))
    for row in range(40, 480, 16):
        cv2.line(book, (14, row), (690, row), (172, 190, 214, 255), 1)
    for column in (70, 634):
        cv2.line(book, (column, 0), (column, 499), (222, 150, 150, 255), 2)
    fold = 1 - 0.24 * np.exp(-((np.arange(704) - 352) ** 2) / 600.0)
    book[..., :3] = (book[..., :3] * fold[None, :, None]).astype(np.uint8)
    rng = np.random.default_rng(8)
    for row in range(56, 400, 32):
        long = int(rng.integers(120, 230))
        wave = [(90 + x, row + round(4 * float(np.sin(x / 5)))) for x in range(0, long, 4)]
        cv2.polylines(book, [np.array(wave, np.int32)], False, (52, 64, 128, 255), 2, cv2.LINE_AA)
    return book


def _kitchen_roll() -> _Pixels:
    """A sheet of kitchen roll: quilted, its torn edges uneven, two texels a millimetre."""
    sheet = blank(450, 520, (236, 234, 230))
    rows, columns = np.indices((520, 450)).astype(float)
    quilt = np.sin((rows + columns) / 9) * np.sin((rows - columns) / 9)
    sheet[..., :3] = np.clip(sheet[..., :3] * (1 - 0.05 * quilt[..., None] ** 2), 0, 255)
    along = np.arange(450)
    torn = 6 + 3 * np.sign(np.sin(along / 2.2)) + 3 * np.sin(along / 31)
    sheet[..., 3] = np.where((rows > torn) & (rows < 519 - torn[::-1]), 255, 0)
    return sheet


def _whiteboard() -> _Pixels:
    """A small whiteboard in an aluminium frame, with some writing, one texel a millimetre."""
    board = blank(400, 300, (150, 153, 158))
    cv2.rectangle(board, (10, 10), (389, 289), (240, 241, 242, 255), cv2.FILLED)
    for row, rgb in ((70, (30, 60, 140)), (110, (30, 60, 140)), (190, (170, 40, 40))):
        wave = [(50 + x, row + round(9 * float(np.sin(x / 8.0)))) for x in range(0, 200, 5)]
        cv2.polylines(board, [np.array(wave, np.int32)], False, (*rgb, 255), 3, cv2.LINE_AA)
    cv2.rectangle(board, (130, 288), (270, 299), (110, 112, 116, 255), cv2.FILLED)
    return board


def _turned_letter() -> _Pixels:
    page = blank(559, 432, _WHITE)
    page[..., :3] = page[..., :3] * np.linspace(1.0, 0.97, 559)[None, :, None]
    return page


def _hangs(base: str, texture: _Pixels, texels_per_mm: float, *, aside_mm: float = 0.0) -> Change:
    """The thing instead of the paper, its middle so far beside the paper’s."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = bare_wall(pixels, base, body)
        height, width = np.array(texture.shape[:2]) / texels_per_mm
        placed = on_wall(base, aside_mm - width / 2, -height / 2, mm_per_texel=1 / texels_per_mm)
        return paint(out, texture, placed, child=body, shadow=0.35)

    return change


def _corners(
    base: str, texture: _Pixels, texels_per_mm: float, paper: _Paper, *, aside_mm: float = 0.0
) -> Callable[[Photo, Body], ReferenceRequest]:
    """The thing’s corners clicked as the paper’s."""

    def asked(_photo: Photo, _: Body) -> ReferenceRequest:
        height, width = np.array(texture.shape[:2]) / texels_per_mm / 2
        corners = [
            [-width, -height, 0],
            [width, -height, 0],
            [width, height, 0],
            [-width, height, 0],
        ]
        points = seen_px(base, np.array(corners) + np.array([aside_mm, 0, 0]))
        return ReferenceRequest(paper, points_px=points.tolist())

    return asked


_Thing = tuple[str, str, _Pixels, float, _Paper, float, MaySay]
_CLICKED: Final[tuple[_Thing, ...]] = (
    ("clipboard clicked as letter", "letter_2", _clipboard(), 2.0, "letter", 0.0, "no number"),
    ("open exercise book as a4", "flat_1", _exercise_book(), 2.0, "a4", -40.0, "no number"),
    ("letter on its side", "letter_1", _turned_letter(), 2.0, "letter", 20.0, "a right number"),
)
_FOUND: Final[tuple[_Thing, ...]] = (
    ("kitchen roll as letter", "flat_3", _kitchen_roll(), 2.0, "letter", 0.0, "no number"),
    ("whiteboard as letter", "flat_8", _whiteboard(), 1.0, "letter", -30.0, "no number"),
)
FLAT_THINGS: Final[tuple[LookAlike, ...]] = (
    *(
        LookAlike(
            name,
            base,
            _hangs(base, texture, fine, aside_mm=aside),
            request=_corners(base, texture, fine, paper, aside_mm=aside),
            may_say=may_say,
        )
        for name, base, texture, fine, paper, aside, may_say in _CLICKED
    ),
    *(
        LookAlike(
            name,
            base,
            _hangs(base, texture, fine, aside_mm=aside),
            request=said(ReferenceRequest(paper)),
            may_say=may_say,
        )
        for name, base, texture, fine, paper, aside, may_say in _FOUND
    ),
)
