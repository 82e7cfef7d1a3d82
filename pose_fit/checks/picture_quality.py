"""Is the picture sharp and bright enough at the legs for what is to be measured there?

Blur is measured where it matters, at the outlines of the legs and in parts of the leg, since a
pixel of blur matters more the smaller the child is in the picture. A step that the lens, the
focus or a movement has spread by sigma has, smoothed further by s1 and s2, peaks of gradient

    g1 / g2 = sqrt((sigma^2 + s2^2) / (sigma^2 + s1^2))                           Eq. (1)

(the ratio of a blurred and a reblurred edge; Zhuo & Sim 2011, Pattern Recognition 44, 1852,
from memory), whatever its height, which gives sigma for each edge. Across and along the
legs are told apart, since a movement blurs one of them only.
"""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.metrology.units import both_units
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Notice, Refusal

__all__ = ["PictureQuality", "blurs_px", "quality_of", "quality_of_all", "refusal_for"]

#: The smoothings s1 and s2 of Eq. (1), in legs.
_SMOOTHINGS: Final = (0.004, 0.010)
#: Of the blur of all edges this quantile of sharpness counts: shadows have soft edges of their own.
_SHARPER_THAN: Final = 0.7
#: Steps count that are at least this high in grey levels, and this part of the highest.
_LEAST_STEP: Final = 6.0
_STEP_PART: Final = 0.4
_LEAST_EDGES: Final = 15
#: Steps over the smoothed gradient, sqrt(2 pi) for a pure step.
_STEP_OVER_PEAK: Final = float(np.sqrt(2 * np.pi))
#: The legs' surroundings, in legs: to each side, above the hips and below the ankles.
_ASIDE: Final = 0.35
_ABOVE: Final = 0.10
_BELOW: Final = 0.25
#: Edges count this near the person.
_NEAR: Final = 0.06
#: A blur of this part of the leg (5 and 8 mm on legs of half a metre) is told, and refused.
WARN_BLUR: Final = 0.010
MAX_BLUR: Final = 0.017
#: Legs of a child, hip to ankle, to say the blur in millimetres before anything is measured.
_LEG_MM: Final = 500.0
#: The brightest twentieth of the legs' surroundings has fewer grey levels of 255 than this.
WARN_BRIGHTEST: Final = 64.0
MIN_BRIGHTEST: Final = 36.0
#: Share of the legs that is burnt out to white, and the level from which it is. A white wall behind
#: them may be white: what counts is whether the legs are seen.
WARN_BURNT: Final = 0.10
MAX_BURNT: Final = 0.25
_BURNT: Final = 250

_REMEDIES: Final = {
    "picture_blurred": "Hold the phone still with both hands or lean it on something, tap on the"
    " child to focus, wipe the lens, and use more light.",
    "picture_dark": "Use more light: open the curtains, switch on the lamps, do not take the"
    " picture against a window.",
    "picture_overexposed": "Use less or softer light: no flash from near, no sun on a white wall;"
    " tap on the child so that the phone sets the light for it.",
}


@dataclass(frozen=True, slots=True)
class PictureQuality:
    """What the legs' part of the picture is like.

    Attributes
    ----------
    blur_part
        Standard deviation of the blur, the worse of across and along, in legs; nan where no
        edge could be judged.
    brightest
        Grey level that a twentieth of the pixels exceeds, of 255.
    burnt_part
        Share of the person's pixels that are white.
    """

    blur_part: float
    brightest: float
    burnt_part: float

    def faults(self, *, blur: float, brightest: float, burnt: float) -> tuple[Notice, ...]:
        """What exceeds these limits."""
        found = []
        if self.brightest < brightest:
            found.append(
                Notice(
                    "picture_dark",
                    f"The picture is too dark at the legs: nearly all of it is below"
                    f" {self.brightest:.0f} of 255 levels of brightness.",
                )
            )
        if self.burnt_part > burnt:
            found.append(
                Notice(
                    "picture_overexposed",
                    f"The picture is overexposed: {self.burnt_part:.0%} of the legs is burnt out to"
                    " white.",
                )
            )
        if self.blur_part > blur:
            found.append(
                Notice(
                    "picture_blurred",
                    "The picture is blurred: edges at the legs are spread over some"
                    f" {both_units(4 * self.blur_part * _LEG_MM)}.",
                )
            )
        return tuple(found)

    @property
    def doubts(self) -> tuple[Notice, ...]:
        """What makes the measurement less sure."""
        return self.faults(blur=WARN_BLUR, brightest=WARN_BRIGHTEST, burnt=WARN_BURNT)

    @property
    def refusal(self) -> Refusal | None:
        """Why nothing can be measured, or None."""
        faults = self.faults(blur=MAX_BLUR, brightest=MIN_BRIGHTEST, burnt=MAX_BURNT)
        return Refusal(faults, tuple(_REMEDIES[fault.code] for fault in faults)) if faults else None


def refusal_for(faults: tuple[Notice, ...], also: Refusal) -> Refusal:
    """A refusal that names the faults of the picture before the reasons another step gave."""
    remedies = tuple(_REMEDIES[fault.code] for fault in faults)
    return Refusal((*faults, *also.reasons), (*remedies, *also.remedies), also.asks)


def quality_of(photo: Photo, body: Body) -> PictureQuality:
    """Blur and brightness around the legs of a body."""
    part = _legs_part(photo, body)
    leg_px = body.leg_px / photo.working_scale
    grey = photo.grey[part]
    reach = 2 * int(_NEAR * leg_px) + 1
    person = (body.mask[part] > 0.5).astype(np.uint8)
    near = cv2.dilate(person, np.ones((reach, reach), np.uint8)) > 0
    return _quality(grey, near, person > 0, leg_px)


def quality_of_all(photo: Photo) -> PictureQuality:
    """The same of the whole picture, where nobody was found; legs are taken to be a third of it."""
    leg_px = max(photo.pixels.shape[:2]) / 3
    grey = photo.grey
    everywhere = np.ones(grey.shape, bool)
    return _quality(grey, everywhere, everywhere, leg_px)


def _quality(
    grey: NDArray[np.uint8],
    near: NDArray[np.bool_],
    person: NDArray[np.bool_],
    leg_px: float,
) -> PictureQuality:
    known = [blur for blur in blurs_px(grey, near, leg_px=leg_px) if blur is not None]
    return PictureQuality(
        blur_part=max(known) / leg_px if known else float("nan"),
        brightest=float(np.quantile(grey, 0.95)),
        burnt_part=float((grey[person if person.any() else near] >= _BURNT).mean()),
    )


def _legs_part(photo: Photo, body: Body) -> tuple[slice, slice]:
    """Rows and columns of the working picture around the legs."""
    leg_px = body.leg_px / photo.working_scale
    ends_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    low = ends_px.min(axis=0) - np.array([_ASIDE, _ABOVE]) * leg_px
    high = ends_px.max(axis=0) + np.array([_ASIDE, _BELOW]) * leg_px
    height_px, width_px = photo.pixels.shape[:2]
    left, top = (int(value) for value in np.clip(low, 0, [width_px - 2, height_px - 2]))
    right, bottom = (
        int(value) for value in np.clip(high, [left + 2, top + 2], [width_px, height_px])
    )
    return slice(top, bottom), slice(left, right)


def blurs_px(
    grey: NDArray[np.uint8], near: NDArray[np.bool_], *, leg_px: float
) -> tuple[float | None, float | None]:
    """Standard deviation of the blur down and across, by Eq. (1); None with too few edges."""
    shade = grey.astype(np.float32)
    smoothings_px = tuple(max(part * leg_px, 0.5) for part in _SMOOTHINGS)
    sharp, soft = (_slopes(cv2.GaussianBlur(shade, (0, 0), s)) for s in smoothings_px)
    down, across = (
        _blur_px(sharp[axis], soft[axis], soft[1 - axis], near, smoothings_px, axis=axis)
        for axis in (0, 1)
    )
    return down, across


def _slopes(shade: cv2.typing.MatLike) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Steepness down and across."""
    down, across = (
        np.abs(cv2.Sobel(shade, -1, *way, ksize=1, scale=0.5, borderType=cv2.BORDER_REPLICATE))
        for way in ((0, 1), (1, 0))
    )
    return down, across


def _blur_px(
    sharp: NDArray[np.float32],
    soft: NDArray[np.float32],
    soft_along: NDArray[np.float32],
    near: NDArray[np.bool_],
    smoothings_px: tuple[float, ...],
    *,
    axis: int,
) -> float | None:
    """The blur along an axis, by the slopes along it after less and more smoothing."""
    less, more = smoothings_px
    reach = 2 * int(1.5 * more) + 1
    window = np.ones((reach, 1) if axis == 0 else (1, reach), np.uint8)
    # An edge is a crest of the gradient that runs across the axis.
    crest = (soft >= cv2.dilate(soft, window)) & (soft > 2 * soft_along) & near
    crest[:3] = crest[-3:] = crest[:, :3] = crest[:, -3:] = False
    steps = soft[crest] * more * _STEP_OVER_PEAK
    if not len(steps):
        return None
    counts = steps > max(_LEAST_STEP, _STEP_PART * float(np.quantile(steps, 0.95)))
    if counts.sum() < _LEAST_EDGES:
        return None
    ratios = (cv2.dilate(sharp, window)[crest] / soft[crest])[counts]
    square = float(np.quantile(ratios, _SHARPER_THAN)) ** 2
    return float(np.sqrt(max(more**2 - square * less**2, 0.0) / max(square - 1, 1e-6)))
