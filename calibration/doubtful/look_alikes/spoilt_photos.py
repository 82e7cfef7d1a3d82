"""Photos that were spoilt or retouched, and legs behind what stands before them."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.depth import placed_card
from calibration.doubtful.look_alikes.drawing import (
    Figure,
    blank,
    child_alpha,
    figure_of,
    in_box,
    over,
    paint,
    without_child,
)
from calibration.doubtful.look_alikes.look_alike import LookAlike, soft
from pose_fit.body.body import Body

__all__ = ["SPOILT_PHOTOS"]

_Pixels = NDArray[np.uint8]
#: The panorama's seam and how many rows come twice, and how far the lower part is aside.
_SEAM_PX: Final = 778
_TWICE_PX: Final = 34
_ASIDE_PX: Final = 11


def _smiley(pixels: _Pixels, body: Body) -> _Pixels:
    """A yellow smiley pasted over the child’s face."""
    (x, y), radius = np.round(body.point_px("nose")).astype(int), round(0.24 * body.leg_px)
    middle = (int(x), int(y) - round(0.12 * radius))
    out = pixels.copy()
    cv2.circle(out, middle, radius, (252, 206, 62), cv2.FILLED, cv2.LINE_AA)
    cv2.circle(out, middle, radius, (214, 160, 30), 2, cv2.LINE_AA)
    for side in (-1, 1):
        eye = (middle[0] + side * round(0.36 * radius), middle[1] - round(0.25 * radius))
        cv2.ellipse(out, eye, (radius // 8, radius // 5), 0, 0, 360, (82, 52, 20), -1, cv2.LINE_AA)
    mouth = (middle[0], middle[1] + radius // 10)
    cv2.ellipse(out, mouth, (radius // 2, radius // 2), 0, 20, 160, (82, 52, 20), 3, cv2.LINE_AA)
    return out


def _bar_over_hips(pixels: _Pixels, body: Body) -> _Pixels:
    """A black bar over the hips, as somebody hides swimwear."""
    (x, y), leg = body.hips_px, body.leg_px
    out = pixels.copy()
    low, high = (
        (round(float(x) - 0.36 * leg), round(float(y) - 0.14 * leg)),
        (
            round(float(x) + 0.36 * leg),
            round(float(y) + 0.24 * leg),
        ),
    )
    cv2.rectangle(out, low, high, (6, 6, 6), cv2.FILLED)
    return out


def _polished_floor(pixels: _Pixels, body: Body) -> _Pixels:
    """A wet floor that shows the child upside down."""
    child = figure_of("a4_1", pixels)
    texture = child.texture.copy()
    rows = np.arange(len(texture))[:, None]
    soles = float(body.points_px(("left_heel", "right_heel"))[:, 1].max()) + 0.035 * body.leg_px
    fade = np.clip(1 - (soles - rows) / (1.5 * body.leg_px), 0, 1) * (rows < soles)
    texture[..., 3] = (0.42 * fade * texture[..., 3]).astype(np.uint8)
    texture[..., :3] = cv2.GaussianBlur(texture[..., :3], (0, 0), 2.2)
    upside_down = np.array([[1.0, 0, 0], [0, -1, 2 * soles], [0, 0, 1]])
    return paint(pixels, texture, upside_down, child=body, shadow=0.0, lit=False)


def _shadow_alone(pixels: _Pixels, body: Body) -> _Pixels:
    """Nobody in the picture; somebody’s shadow falls on wall and floor."""
    out = without_child(pixels, body, side="left", slope=-0.045, more=0.1, whole=True)
    shape = np.asarray(child_alpha(body), np.float32)
    (x, y), leg = body.ankles_px, body.leg_px
    grow = np.array([[1.14, -0.10, 0], [0, 1.14, 0]])
    grow[:, 2] = np.array([x + 0.10 * leg, y + 0.06 * leg]) - grow[:, :2] @ body.ankles_px
    cast = cv2.warpAffine(shape, grow, shape.shape[::-1])
    cast = cv2.GaussianBlur(cast, (0, 0), 0.022 * leg)[..., None]
    return np.asarray(np.clip(out * (1 - 0.52 * cast), 0, 255), np.uint8)


def _ghost(pixels: _Pixels, body: Body) -> _Pixels:
    """A child that moved while a long exposure lasted: twice there, half to be seen through."""
    out = without_child(pixels, body, side="left", slope=-0.03, more=0.07)
    child = figure_of("sheet_1", pixels)
    for part, aside in ((0.62, 0.0), (0.55, 0.24)):
        texture = child.texture.copy()
        texture[..., 3] = (part * texture[..., 3]).astype(np.uint8)
        ankles = body.ankles_px + np.array([aside, -0.01]) * body.leg_px
        ghost = Figure(texture, child.body)
        out = over(out, ghost, ghost.placed(ankles, body.leg_px), shadow=0.08)
    return out


def _panorama(pixels: _Pixels, _: Body) -> _Pixels:
    """Two shots badly joined below the knees: some rows come twice, the lower part is aside."""
    lower = np.roll(pixels[_SEAM_PX - _TWICE_PX :], _ASIDE_PX, axis=1)
    joined = np.concatenate([pixels[:_SEAM_PX], lower])
    for row in range(-6, 6):
        part = (row + 6) / 12
        at = _SEAM_PX + row
        joined[at] = (1 - part) * pixels[at] + part * joined[min(at, len(joined) - 1)]
    return np.ascontiguousarray(joined[: len(pixels)])


def _pickets(pixels: _Pixels, _: Body) -> _Pixels:
    """A garden fence before the child."""
    out = pixels
    for at in (-95.0, 230.0):
        rail = blank(1500, 70, (188, 186, 180))
        corners = [
            [-1350, at, -420],
            [-330, at, -420],
            [-330, at + 62, -420],
            [-1350, at + 62, -420],
        ]
        out = paint(out, rail, placed_card("flat_5", rail, corners), shadow=0.3)
    for number, left in enumerate(np.arange(-1340.0, -330, 136.0)):
        board = blank(90, 760, (214, 212, 206))
        board[..., :3] = board[..., :3] * (0.93 + 0.05 * (number % 3) / 2)
        board[:46, :, 3] = np.where(
            np.abs(np.arange(90)[None] - 45) < np.arange(46)[:, None], 255, 0
        )
        around = np.array(
            [[left, -290, -436], [left + 90, -290, -436], [left + 90, 420, -436], [left, 420, -436]]
        )
        out = paint(out, board, placed_card("flat_5", board, around), shadow=0.35)
    return out


def _pillar(pixels: _Pixels, body: Body) -> _Pixels:
    """A round column before one half of the child."""
    (x, y), leg = body.hips_px, body.leg_px
    column = blank(200, 1200, (168, 162, 152))
    bend = 0.62 + 0.46 * np.sin(np.linspace(0.35, 2.6, 200))
    grain = np.random.default_rng(6).normal(0, 3, (1200, 200, 1))
    column[..., :3] = np.clip(column[..., :3] * bend[None, :, None] + grain, 0, 255)
    foot = float(y) + 1.45 * leg
    placed = in_box(column, float(x) + 0.015 * leg, -20, float(x) + 0.52 * leg, foot)
    out = paint(pixels, column, placed, shadow=0.35, lit=False)
    base = blank(200, 40, (150, 144, 134))
    base[..., :3] = base[..., :3] * bend[None, :, None]
    low = in_box(base, float(x) - 0.01 * leg, foot - 14, float(x) + 0.545 * leg, foot + 8)
    return soft(pixels, paint(out, base, low, shadow=0.4, lit=False))


SPOILT_PHOTOS: Final[tuple[LookAlike, ...]] = (
    LookAlike("a smiley over the face", "letter_1", _smiley, may_say="a right number"),
    LookAlike("a bar over the hips", "door_1", _bar_over_hips, may_say="no number"),
    LookAlike("a floor that mirrors", "a4_1", _polished_floor, may_say="a right number"),
    LookAlike("a shadow alone", "letter_1", _shadow_alone, may_say="no number", shows_child=False),
    LookAlike("twice in a long exposure", "sheet_1", _ghost, may_say="no number"),
    LookAlike("a panorama’s broken seam", "sheet_2", _panorama, may_say="no number"),
    LookAlike("behind a garden fence", "flat_5", _pickets, may_say="no number"),
    LookAlike("half behind a column", "sheet_3", _pillar, may_say="no number"),
)
