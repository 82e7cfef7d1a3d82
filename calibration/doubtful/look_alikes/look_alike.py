"""What a look-alike is, and the shapes that several of them are drawn with.

Places are parts of the picture's width and height, as in `changes`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.reference import ReferenceKind
from pose_fit.reference.request import ReferenceRequest

__all__ = [
    "Asks",
    "Box",
    "Change",
    "MaySay",
    "LookAlike",
    "ScoreSet",
    "as_it_is",
    "beside_feet",
    "box_beside",
    "box_px",
    "corners_said",
    "lamp",
    "on_shirt",
    "rectangle",
    "said",
    "soft",
    "window",
]

_Pixels = NDArray[np.uint8]
Box = tuple[float, float, float, float]
Change = Callable[[_Pixels, Body], _Pixels]
#: What somebody says and clicks, which needs the picture and its child.
Asks = Callable[[Photo, Body], ReferenceRequest]
#: When a picture was looked at: while the rules were made, or first scored after they were fixed.
#: By the first trial some rules were put right; the second and the third were made without knowing
#: any rule, and the third was split by chance before anybody scored it.
ScoreSet = Literal[
    "rules", "first trial", "second trial", "third trial, first half", "third trial, second half"
]
#: The most an honest answer may say. A refusal is always right; a number with a word has to hold
#: the truth, and so has a right number, which needs no word.
MaySay = Literal["no number", "number with a word", "a right number"]


@dataclass(frozen=True, slots=True)
class LookAlike:
    """A picture, what was done to its (H, W, 3) pixels, and what is asked.

    Attributes
    ----------
    base
        A sample, or a rendered picture of `pictures.PICTURES`.
    paper
        What somebody calls the bright thing; None: as the base says.
    request
        What somebody says and clicks instead; it needs the base's photo and body.
    score_set
        When it was looked at.
    may_say
        The most that may be said of it; None: nobody wrote it down.
    shows_child
        Whether the base's child is there to be measured, with the base's true inseam.
    """

    name: str
    base: str
    change: Change
    paper: Literal["letter", "a4"] | None = None
    request: Asks | None = None
    score_set: ScoreSet = "rules"
    may_say: MaySay | None = None
    shows_child: bool = True


def rectangle(box: Box, level: int, *, fade: bool = False, angle_deg: float = 0.0) -> Change:
    """A bright upright rectangle; with ``fade`` it runs into the wall at its left."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        x0, y0, x1, y1 = box_px(pixels, box)
        light = np.full((y1 - y0, x1 - x0, 3), level, float)
        if fade:
            part = np.linspace(0, 1, x1 - x0)[None, :, None]
            light = (1 - part) * pixels[y0:y1, x0:x1] + part * light
        out = pixels.copy()
        if angle_deg:
            corners = cv2.boxPoints((((x0 + x1) / 2, (y0 + y1) / 2), (x1 - x0, y1 - y0), angle_deg))
            cv2.fillConvexPoly(out, np.round(corners).astype(np.int32), (level,) * 3, cv2.LINE_AA)
        else:
            out[y0:y1, x0:x1] = light.astype(np.uint8)
        return soft(pixels, out)

    return change


def window(box: Box, panes: int) -> Change:
    """Bright panes between dark bars that run across all of them."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        x0, y0, x1, y1 = box_px(pixels, box)
        out = pixels.copy()
        out[y0:y1, x0:x1] = 240
        bar = max((x1 - x0) // 40, 3)
        for at in np.linspace(x0, x1, panes + 1).astype(int):
            out[y0:y1, max(at - bar, 0) : at + bar] = 70
        for at in np.linspace(y0, y1, panes + 1).astype(int):
            out[max(at - bar, 0) : at + bar, x0:x1] = 70
        return soft(pixels, out)

    return change


def lamp(box: Box) -> Change:
    """A glowing square whose light runs over its edges."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        x0, y0, x1, y1 = box_px(pixels, box)
        glow = np.zeros(pixels.shape[:2], np.float32)
        glow[y0:y1, x0:x1] = 1.0
        glow = np.maximum(glow * 0.6, cv2.GaussianBlur(glow, (0, 0), (x1 - x0) / 6))
        return np.clip(pixels + 200.0 * glow[..., None], 0, 255).astype(np.uint8)

    return change


def on_shirt(part: float) -> Change:
    """A white print of the shape of paper on the chest."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        chest = body.points_px(("left_shoulder", "right_shoulder")).mean(axis=0) * 0.5
        chest = chest + body.hips_px * 0.5
        width = part * body.leg_px
        out = pixels.copy()
        half = np.array([width / 2, 0.707 * width])
        low, high = np.round(chest - half).astype(int), np.round(chest + half).astype(int)
        out[low[1] : high[1], low[0] : high[0]] = 245
        return soft(pixels, out)

    return change


def soft(before: _Pixels, after: _Pixels) -> _Pixels:
    """What was drawn, as soft as a camera makes it."""
    drawn = (before != after).any(axis=2)
    near = cv2.dilate(drawn.astype(np.uint8), np.ones((5, 5), np.uint8)) > 0
    blurred = np.asarray(cv2.GaussianBlur(after, (0, 0), 0.8), np.uint8)
    return np.where(near[..., None], blurred, after)


def as_it_is(pixels: _Pixels, _: Body) -> _Pixels:
    """Nothing done to the picture: what is asked of it is what is doubtful."""
    return pixels


def said(request: ReferenceRequest) -> Asks:
    """What somebody says, whatever the base."""
    return lambda _photo, _body: request


def box_px(pixels: _Pixels, box: Box) -> tuple[int, int, int, int]:
    height, width = pixels.shape[:2]
    x0, y0, x1, y1 = box
    return round(x0 * width), round(y0 * height), round(x1 * width), round(y1 * height)


def beside_feet(body: Body, aside: float, above: float) -> tuple[float, float]:
    """A place (x, y) so many legs to the right of the ankles and above them, pixels."""
    x, y = body.ankles_px
    return float(x) + aside * body.leg_px, float(y) - above * body.leg_px


def box_beside(body: Body, box: Box) -> NDArray[np.float64]:
    """(4, 2) array: corners of a box in pixels.

    Its left, right, top and bottom are legs to the right of the ankles and above them.
    """
    left, right, top, bottom = box
    places = ((left, top), (right, top), (right, bottom), (left, bottom))
    return np.array([beside_feet(body, *place) for place in places])


def corners_said(box: Box, kind: ReferenceKind, size_mm: float | None = None) -> Asks:
    """Somebody clicks the corners of such a box and says what it is."""

    def asked(photo: Photo, body: Body) -> ReferenceRequest:
        limits = [photo.width_px - 12.0, photo.height_px - 12.0]
        corners = np.clip(box_beside(body, box), 12.0, limits)
        return ReferenceRequest(kind, size_mm=size_mm, points_px=corners.tolist())

    return asked
