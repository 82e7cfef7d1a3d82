"""What goes wrong with a picture, done to a good one: each takes a photo and returns another.

Places are parts of the picture's width and height, lengths parts of its height, so that a
change means the same at any size.
"""

from collections.abc import Callable
from dataclasses import replace

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.photo import Photo

__all__ = [
    "Change",
    "beside",
    "blurred",
    "brightened",
    "covered_at",
    "cropped",
    "darkened",
    "enlarged_part",
    "flat",
    "framed",
    "mirrored",
    "moved",
    "pasted",
    "poster",
    "resized",
    "rotated",
    "screenshot",
    "shrunk",
    "then",
]

Change = Callable[[Photo], Photo]
_Pixels = NDArray[np.uint8]
_Box = tuple[float, float, float, float]


def with_pixels(photo: Photo, pixels: _Pixels) -> Photo:
    """The photo with other pixels, at its own size in the file."""
    height_px, width_px = pixels.shape[:2]
    return replace(
        photo, pixels=np.ascontiguousarray(pixels), width_px=width_px, height_px=height_px
    )


def then(*changes: Change) -> Change:
    """One change after the other."""

    def change(photo: Photo) -> Photo:
        for one in changes:
            photo = one(photo)
        return photo

    return change


def resized(factor: float) -> Change:
    """Fewer pixels."""

    def change(photo: Photo) -> Photo:
        small = cv2.resize(photo.pixels, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
        return with_pixels(photo, np.asarray(small, np.uint8))

    return change


def cropped(left: float, top: float, right: float, bottom: float) -> Change:
    """Only the part from left to right and top to bottom."""

    def change(photo: Photo) -> Photo:
        x0, y0, x1, y1 = _px(photo, (left, top, right, bottom))
        return with_pixels(photo, photo.pixels[y0:y1, x0:x1])

    return change


def shrunk(factor: float) -> Change:
    """The scene smaller, in the middle of more wall and floor."""

    def change(photo: Photo) -> Photo:
        height_px, width_px = photo.pixels.shape[:2]
        small = resized(factor)(photo).pixels
        aside, above = width_px - small.shape[1], height_px - small.shape[0]
        border = (above // 2, above - above // 2, aside // 2, aside - aside // 2)
        wide = cv2.copyMakeBorder(small, *border, cv2.BORDER_REPLICATE)
        return with_pixels(photo, np.asarray(wide, np.uint8))

    return change


def flat(level: int) -> Change:
    """Nothing but a wall."""

    def change(photo: Photo) -> Photo:
        rng = np.random.default_rng(level)
        noise = rng.normal(level, 3, photo.pixels.shape)
        return with_pixels(photo, np.clip(noise, 0, 255).astype(np.uint8))

    return change


def covered_at(
    left: float, top: float, right: float, bottom: float, *, rgb: tuple[int, int, int] | None = None
) -> Change:
    """A part painted over: in a colour, or in the colours at its left and right edges."""

    def change(photo: Photo) -> Photo:
        x0, y0, x1, y1 = _px(photo, (left, top, right, bottom))
        pixels = photo.pixels.copy()
        if rgb is None:
            rows = pixels[y0:y1]
            part = np.linspace(0, 1, x1 - x0)[None, :, None]
            start, end = rows[:, x0 - 4 : x0].mean(axis=1), rows[:, x1 : x1 + 4].mean(axis=1)
            pixels[y0:y1, x0:x1] = (1 - part) * start[:, None] + part * end[:, None]
        else:
            pixels[y0:y1, x0:x1] = rgb
        return with_pixels(photo, pixels)

    return change


def pasted(box: _Box, to: tuple[float, float], *, factor: float = 1.0) -> Change:
    """A part once more at another place (its left top), larger or smaller."""

    def change(photo: Photo) -> Photo:
        x0, y0, x1, y1 = _px(photo, box)
        part = cv2.resize(
            photo.pixels[y0:y1, x0:x1], None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA
        )
        left, top, _, _ = _px(photo, (*to, 1, 1))
        pixels = photo.pixels.copy()
        room = pixels[top : top + part.shape[0], left : left + part.shape[1]]
        room[:] = part[: room.shape[0], : room.shape[1]]
        return with_pixels(photo, pixels)

    return change


def enlarged_part(box: _Box, factor: float) -> Change:
    """A part larger or smaller in its own place: an object nearer or farther than the wall."""
    left, top, right, bottom = box
    middle = (left + right) / 2, (top + bottom) / 2
    corner = middle[0] - factor * (right - left) / 2, middle[1] - factor * (bottom - top) / 2

    def change(photo: Photo) -> Photo:
        clean = covered_at(*box)(photo)
        part = pasted(box, corner, factor=factor)(photo)
        x0, y0, x1, y1 = _px(photo, (*corner, 2 * middle[0] - corner[0], 2 * middle[1] - corner[1]))
        pixels = clean.pixels.copy()
        pixels[y0:y1, x0:x1] = part.pixels[y0:y1, x0:x1]
        return with_pixels(photo, pixels)

    return change


def blurred(part: float) -> Change:
    """Out of focus: a standard deviation in parts of the height."""

    def change(photo: Photo) -> Photo:
        sigma = part * photo.pixels.shape[0]
        return with_pixels(photo, np.asarray(cv2.GaussianBlur(photo.pixels, (0, 0), sigma)))

    return change


def moved(part: float, *, upward: bool = False) -> Change:
    """The phone moved while the picture was taken: length of the streak."""

    def change(photo: Photo) -> Photo:
        length = max(round(part * photo.pixels.shape[0]), 3)
        streak = np.full((1, length), 1 / length, np.float32)
        kernel = streak.T if upward else streak
        return with_pixels(photo, np.asarray(cv2.filter2D(photo.pixels, -1, kernel)))

    return change


def darkened(share: float) -> Change:
    """This share of the light, with the sensor's noise."""

    def change(photo: Photo) -> Photo:
        rng = np.random.default_rng(7)
        light = share * (photo.pixels / 255.0) ** 2.2
        light += rng.normal(0, 0.0006, light.shape)
        toned = 255 * np.clip(light, 0, 1) ** (1 / 2.2)
        return with_pixels(photo, np.round(toned).astype(np.uint8))

    return change


def brightened(factor: float) -> Change:
    """This many times the light: what was bright is burnt out."""

    def change(photo: Photo) -> Photo:
        light = factor * (photo.pixels / 255.0) ** 2.2
        return with_pixels(
            photo, np.round(255 * np.clip(light, 0, 1) ** (1 / 2.2)).astype(np.uint8)
        )

    return change


def mirrored() -> Change:
    """As a selfie camera shows it."""
    return lambda photo: with_pixels(photo, photo.pixels[:, ::-1])


def rotated(quarters: int) -> Change:
    """Turned by quarters to the left."""
    return lambda photo: with_pixels(photo, np.rot90(photo.pixels, quarters))


def framed(part: float, rgb: tuple[int, int, int]) -> Change:
    """Bars above and below."""

    def change(photo: Photo) -> Photo:
        bar = round(part * photo.pixels.shape[0])
        wide = cv2.copyMakeBorder(photo.pixels, bar, bar, 0, 0, cv2.BORDER_CONSTANT, value=rgb)
        return with_pixels(photo, np.asarray(wide, np.uint8))

    return change


def screenshot() -> Change:
    """On a phone's screen, with its lines of signs, and without any word of the lens."""

    def change(photo: Photo) -> Photo:
        height_px, width_px = photo.pixels.shape[:2]
        bar = round((2.17 * width_px - height_px) / 2)
        wide = np.asarray(
            cv2.copyMakeBorder(
                photo.pixels, bar, bar, 0, 0, cv2.BORDER_CONSTANT, value=(18, 18, 18)
            ),
            np.uint8,
        )
        for x, text in ((0.06, "12:41"), (0.8, "84%")):
            place = (int(x * width_px), int(0.3 * bar))
            cv2.putText(wide, text, place, cv2.FONT_HERSHEY_SIMPLEX, 0.7, (240, 240, 240), 2)
        return replace(with_pixels(photo, wide), focal_35mm=None, taken_on=None)

    return change


def beside(other: Photo, *, seam: bool = True) -> Change:
    """Another picture to the right; without a seam the two run into each other."""

    def change(photo: Photo) -> Photo:
        height_px = photo.pixels.shape[0]
        scale = height_px / other.pixels.shape[0]
        right = cv2.resize(other.pixels, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
        right = np.asarray(right[:height_px], np.uint8)
        if seam:
            return with_pixels(photo, np.hstack([photo.pixels, right]))
        run = round(0.06 * height_px)
        part = np.linspace(0, 1, run)[None, :, None]
        mixed = (1 - part) * photo.pixels[:, -run:] + part * right[:, :run]
        whole = [photo.pixels[:, :-run], mixed.astype(np.uint8), right[:, run:]]
        return with_pixels(photo, np.hstack(whole))

    return change


def poster(other: Photo, box: _Box, at: _Box) -> Change:
    """A part of another picture as a poster on the wall."""

    def change(photo: Photo) -> Photo:
        ox0, oy0, ox1, oy1 = _px(other, box)
        x0, y0, x1, y1 = _px(photo, at)
        size = (x1 - x0, y1 - y0)
        pixels = photo.pixels.copy()
        pixels[y0:y1, x0:x1] = cv2.resize(
            other.pixels[oy0:oy1, ox0:ox1], size, interpolation=cv2.INTER_AREA
        )
        return with_pixels(photo, pixels)

    return change


def _px(photo: Photo, box: _Box) -> tuple[int, int, int, int]:
    height_px, width_px = photo.pixels.shape[:2]
    x0, y0, x1, y1 = box
    return (
        max(round(x0 * width_px), 0),
        max(round(y0 * height_px), 0),
        min(round(x1 * width_px), width_px),
        min(round(y1 * height_px), height_px),
    )
