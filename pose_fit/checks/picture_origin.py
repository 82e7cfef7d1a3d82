"""Is this the picture that a camera took, or a screenshot, or several put together?

Only what leaves straight traces over the whole width or height is told: bars of one colour
round the picture, and seams between pictures. They do not hinder measuring as long as
child and reference are in one picture, but the lens is no longer known, so the user is told.
"""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.reference import Reference
from pose_fit.refusal import Notice, Refusal

__all__ = ["Origin", "check_seams", "origin_of"]

#: A bar's rows have one colour but for this share of icons and letters, to this many grey levels.
BAR_SHARE: Final = 0.94
BAR_LEVELS: Final = 6.0
#: Shortest bar, as a part of the picture's side.
LEAST_BAR: Final = 0.012
#: A seam or a bar's end runs over this share of the picture's side, and changes the colour by this
#: many levels and this many times what the columns beside it do. Only upright seams count: the
#: line between wall and floor is as long and as straight as a level one.
BAR_END_SHARE: Final = 0.85
SEAM_SHARE: Final = 0.93
SEAM_LEVELS: Final = 5.0
SEAM_LEAD: Final = 2.5
#: Every so many rows are looked at.
_ROWS: Final = 4
#: No seam is looked for this near the picture's edge, as a part of its side.
SEAM_MARGIN: Final = 0.08
#: Screens of phones are longer than any camera's picture, and screenshots carry no lens.
SCREEN_ASPECTS: Final = (1.95, 2.45)

_ORIGINAL: Final = "Send the original picture file, not a screenshot, frame or collage of it."


@dataclass(frozen=True, slots=True)
class Origin:
    """Traces of what was done to the picture.

    Attributes
    ----------
    bars
        On how many of the four sides a bar of one colour ends in a straight line.
    seams
        Places of upright seams between pictures, in parts of the width.
    has_screen_shape
        It has the shape of a phone's screen and no word of a lens.
    """

    bars: int
    seams: tuple[float, ...]
    has_screen_shape: bool

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What to tell of it."""
        notices = []
        if self.bars >= 2 or self.has_screen_shape:
            seen = "bars of one colour around it" if self.bars >= 2 else "the shape of a screen"
            notices.append(
                Notice(
                    "picture_screenshot",
                    f"{_ORIGINAL} This one has {seen}, which hides what the lens was.",
                )
            )
        elif self.seams:
            notices.append(
                Notice(
                    "picture_collage",
                    f"{_ORIGINAL} In this one a straight seam runs from top to bottom.",
                )
            )
        return tuple(notices)


def origin_of(photo: Photo) -> Origin:
    """The traces in a photo."""
    down, across = photo.pixels[:, ::_ROWS], photo.pixels[::_ROWS].transpose(1, 0, 2)
    bars = sum(_has_bar(side) for side in (down, down[::-1], across, across[::-1]))
    height_px, width_px = photo.pixels.shape[:2]
    aspect = max(height_px, width_px) / min(height_px, width_px)
    low, high = SCREEN_ASPECTS
    is_bare = photo.focal_35mm is None and photo.taken_on is None
    return Origin(
        bars=bars,
        seams=_seams(photo.grey[::_ROWS]),
        has_screen_shape=is_bare and low <= aspect <= high,
    )


def check_seams(photo: Photo, origin: Origin, body: Body, reference: Reference) -> Refusal | None:
    """A refusal where a seam parts the child from the reference: they are in two pictures."""
    child = float(body.hips_px[0] + body.ankles_px[0]) / 2 / photo.width_px
    other = float(reference.image_px[:, 0].mean()) / photo.width_px
    parted = any((child - seam) * (other - seam) < 0 for seam in origin.seams)
    if not parted:
        return None
    return Refusal.because(
        "picture_collage",
        "A straight seam runs between the child and the reference: they are in two"
        " different pictures.",
        f"Child and reference must be in one and the same picture. {_ORIGINAL}",
    )


def _has_bar(colours: NDArray[np.uint8]) -> bool:
    """Whether the first rows have one colour and end in a straight line."""
    half = colours[: round(0.45 * len(colours))]
    colour = np.median(half[:2].reshape(-1, 3), axis=0).astype(np.int16)
    least = round(LEAST_BAR * len(colours))

    def is_bar(rows: NDArray[np.uint8]) -> NDArray[np.bool_]:
        off = np.abs(rows.astype(np.int16) - colour).max(axis=2)
        return np.asarray((off <= BAR_LEVELS).mean(axis=1) >= BAR_SHARE)

    if not is_bar(half[:least]).all():
        return False
    whole = is_bar(half)
    if whole.all():
        return False
    end = int(np.argmin(whole))
    before, after = (
        half[row].astype(np.int16) for row in (max(end - 3, 0), min(end + 2, len(half) - 1))
    )
    steps = np.abs(after - before).max(axis=1)
    return bool((steps > 2 * SEAM_LEVELS).mean() > BAR_END_SHARE)


def _seams(grey: NDArray[np.uint8]) -> tuple[float, ...]:
    """Columns where nearly all rows change at once, in parts of the width."""
    width = grey.shape[1]
    steps = cv2.absdiff(grey[:, 2:], grey[:, :-2])
    # Few columns step at all in so many rows.
    columns = np.flatnonzero((steps > SEAM_LEVELS).mean(axis=0) > SEAM_SHARE)
    # What the columns a little aside do is the picture's own texture.
    aside = [steps[:, (columns + way) % steps.shape[1]] for way in (-6, 6)]
    leads = steps[:, columns] > np.maximum(SEAM_LEVELS, SEAM_LEAD * np.minimum(*aside))
    places = (columns[leads.mean(axis=0) > SEAM_SHARE] + 1.5) / width
    inside = places[(places > SEAM_MARGIN) & (places < 1 - SEAM_MARGIN)]
    # Neighbouring columns are one seam.
    return tuple(inside[np.diff(inside, prepend=-1.0) > 3 / width].tolist())
