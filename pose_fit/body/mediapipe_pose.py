"""The pose model of MediaPipe: its landmarks and mask become a `Body`.

Only the modules named after it know the vendor. The model looks at each person four times, at
shifted, scaled and mirrored crops. The mean of those looks is steadier than one look, and their
scatter is what this photo says of the model's noise.
"""

import functools
import threading
from dataclasses import dataclass
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body, Bystander
from pose_fit.body.cover import covered
from pose_fit.body.mediapipe_loading import loading_mediapipe, quiet_stderr
from pose_fit.body.mediapipe_people import Outline, PeopleDetector
from pose_fit.photo.halved import halved
from pose_fit.photo.photo import Photo

__all__ = ["MediaPipePose", "pose_model"]

#: Index of each of our landmarks in the vendor's list of 33.
_VENDOR_INDEX: Final = (0, 2, 5, 7, 8, 11, 12, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32)
#: For each of our landmarks its twin on the other side of the body.
_TWIN: Final = (0, 2, 1, 4, 3, 6, 5, 8, 7, 10, 9, 12, 11, 14, 13, 16, 15)


@dataclass(frozen=True, slots=True)
class _Crop:
    """A look: margin around the person, shift in parts of the box, and mirroring."""

    margin: float
    shift_x: float
    shift_y: float
    mirrored: bool


#: Looks err alike (3 % of the leg at the hips, in rendered worlds): two more move their mean by a
#: tenth of that and make the inseam no better.
_CROPS: Final = (
    _Crop(0.40, 0.05, -0.03, False),
    _Crop(0.40, 0.05, 0.03, True),
    _Crop(0.15, -0.03, 0.02, False),
    _Crop(0.15, 0.03, -0.02, True),
)
#: Shoulders and hips among our landmarks.
_TRUNK: Final = [5, 6, 7, 8]
#: The first look, at the whole picture.
_WHOLE: Final = _Crop(0.0, 0.0, 0.0, False)
#: How the person is looked at whom the detector saw beside the first.
_ASIDE: Final = _Crop(0.10, 0.0, 0.0, False)
#: The detector looks at this many half sides of the person's box around it too.
_NEARBY: Final = 1.8
#: The detector's person is the one already found where the hips are this near, in parts of
#: its reach, or where the second look ends on it again.
_SAME_HIPS: Final = 0.22
#: Two masks are one person's if this share of what both hold is common; a child in front of
#: another one shares a fifth.
_SAME_PLACE: Final = 0.5
#: Landmarks of hips and shoulders of somebody who is there are seen at least this surely.
_LEAST_SEEN: Final = 0.6
#: A look whose landmarks lie this far from those of most looks, in lengths of the body, went astray.
_ASTRAY: Final = 0.10
#: Side of a crop, pixels: several times the model's own 256, so nothing is lost.
_CROP_SIDE_PX: Final = 640
#: Longer side of the picture on which masks are laid, pixels: the model's own mask has 256.
_MASK_SIDE_PX: Final = 1024


@functools.cache
def pose_model() -> "MediaPipePose":
    """The shared model of this process; loading it takes over a second, so it is done once."""
    return MediaPipePose()


class MediaPipePose:
    """MediaPipe's pose model of complexity 1, whose weights come in its wheel."""

    def __init__(self) -> None:
        with loading_mediapipe():
            from mediapipe.python.solutions import pose

            self._pose = pose.Pose(
                static_image_mode=True,
                model_complexity=1,
                smooth_landmarks=False,
                enable_segmentation=True,
                smooth_segmentation=False,
            )
            self._pose.process(np.zeros((64, 64, 3), np.uint8))
            self._detector = PeopleDetector()
            self._detector.find(np.zeros((64, 64, 3), np.uint8))
        self._lock = threading.Lock()
        self._has_greeted = False

    def find(self, photo: Photo) -> Body | None:
        """The most prominent person, looked at several times; None where there is nobody."""
        height_px, width_px = photo.pixels.shape[:2]
        whole = np.array([(width_px - 1) / 2, (height_px - 1) / 2, max(width_px, height_px) / 2])
        first = self._look_at(photo.pixels, whole, _WHOLE)
        if first is None:
            return None
        box = _person_box(first.points_px)
        others = self._others(photo.pixels, first, box)
        pixels = photo.pixels
        if others:
            # Looks would change over from one person to the other.
            keep = _enlarged(first.mask, pixels.shape) > 0.5
            pixels = covered(pixels, [other.points_px for other in others], keep=keep)
        looks = [look for crop in _CROPS if (look := self._look_at(pixels, box, crop))]
        looks = _agreeing(looks)
        if len(looks) < 2:
            return None
        return Body(
            passes_px=photo.upright_px(np.stack([look.points_px for look in looks])),
            visibility=np.mean([look.visibility for look in looks], axis=0),
            mask=_enlarged(np.mean([look.mask for look in looks], axis=0), pixels.shape),
            bystanders=tuple(Bystander(photo.upright_px(other.points_px)) for other in others),
            world_m=np.mean([look.world_m for look in looks], axis=0),
        )

    def _others(
        self, pixels: NDArray[np.uint8], first: "_Look", box: NDArray[np.float64]
    ) -> "list[_Look]":
        """Everybody but the person found, each looked at once while the rest is covered."""
        outlines = self._detector.find(pixels)
        # Somebody small beside somebody large is overlooked unless that one is covered.
        beside = self._detector.find(pixels, around=box * [1, 1, _NEARBY], but=first.points_px)
        # Where that one is covered a body is still seen now and then, which is nobody's.
        own = _enlarged(first.mask, pixels.shape)
        outlines += [one for one in beside if not _is_on(own, one.hips_px)]
        known, others = [first], list[_Look]()
        for outline in sorted(outlines, key=lambda outline: -outline.score):
            if any(_is_of(outline, look) for look in known):
                continue
            rest = covered(pixels, [look.points_px for look in known])
            around = np.array([*outline.hips_px, outline.reach_px])
            look = self._look_at(rest, around, _ASIDE)
            if (
                look is not None
                and look.is_somebody
                and not any(look.is_same(one) for one in known)
            ):
                known.append(look)
                others.append(look)
        return others

    def _look_at(
        self, pixels: NDArray[np.uint8], box: NDArray[np.float64], crop: _Crop
    ) -> "_Look | None":
        to_crop, side_px = _crop_matrix(box, crop)
        found = self._run(_warp(pixels, to_crop, side_px))
        if found.pose_landmarks is None or found.segmentation_mask is None:
            return None
        to_photo = np.asarray(cv2.invertAffineTransform(to_crop), np.float64)
        marks = [found.pose_landmarks.landmark[index] for index in _VENDOR_INDEX]
        # The vendor's coordinates run from 0 at the left edge of the first pixel to 1.
        in_crop_px = np.array([(mark.x, mark.y) for mark in marks]) * side_px - 0.5
        points_px = in_crop_px @ to_photo[:, :2].T + to_photo[:, 2]
        visibility = np.array([mark.visibility for mark in marks])
        solid = [found.pose_world_landmarks.landmark[index] for index in _VENDOR_INDEX]
        world_m = np.array([(mark.x, mark.y, mark.z) for mark in solid])
        if crop.mirrored:
            points_px, visibility = points_px[list(_TWIN)], visibility[list(_TWIN)]
            world_m = world_m[list(_TWIN)] * [-1, 1, 1]
        mask = _laid(found.segmentation_mask, to_photo, pixels.shape)
        return _Look(points_px, visibility, world_m, np.asarray(mask, np.float32))

    def _run(self, crop: NDArray[np.uint8]) -> Any:
        with self._lock:
            if self._has_greeted:
                return self._pose.process(np.ascontiguousarray(crop))
            # The native library writes its banners while it finds its first person.
            with quiet_stderr():
                found = self._pose.process(np.ascontiguousarray(crop))
            self._has_greeted = found.pose_landmarks is not None
            return found


@dataclass(frozen=True, slots=True, eq=False)
class _Look:
    """What one run saw: (L, 2) points, (L,) visibility, (L, 3) world, (h, w) mask as `_laid`."""

    points_px: NDArray[np.float64]
    visibility: NDArray[np.float64]
    world_m: NDArray[np.float64]
    mask: NDArray[np.float32]

    @property
    def person(self) -> Bystander:
        """Where it saw somebody, in the pixels of the look."""
        return Bystander(self.points_px)

    @property
    def is_somebody(self) -> bool:
        """Whether shoulders and hips are surely seen."""
        return float(self.visibility[_TRUNK].mean()) > _LEAST_SEEN

    def is_same(self, other: "_Look") -> bool:
        """Whether both are one person: hip by hip and shoulder by shoulder, or in one place.

        Where somebody was covered the model may still see a body, a little beside the first.
        """
        apart_px = np.linalg.norm(self.points_px[_TRUNK] - other.points_px[_TRUNK], axis=1)
        if float(np.median(apart_px)) < _SAME_HIPS * max(self.person.leg_px, other.person.leg_px):
            return True
        mine, theirs = self.mask > 0.5, other.mask > 0.5
        return int((mine & theirs).sum()) > _SAME_PLACE * int((mine | theirs).sum())


def _agreeing(looks: list[_Look]) -> list[_Look]:
    """The looks but those that saw something else than most did."""
    if not looks:
        return looks
    usual_px = np.median([look.points_px for look in looks], axis=0)
    long_px = float(np.ptp(usual_px, axis=0).max())

    def off(look: _Look) -> float:
        apart_px = np.linalg.norm(look.points_px - usual_px, axis=1)
        return float(np.median(apart_px)) / max(long_px, 1.0)

    return [look for look in looks if off(look) < _ASTRAY]


def _is_on(mask: NDArray[np.float32], place_px: NDArray[np.float64]) -> bool:
    """Whether a place of the picture is on the person of a mask of its size."""
    column, row = (round(float(value)) for value in place_px)
    height, width = mask.shape
    return 0 <= row < height and 0 <= column < width and bool(mask[row, column] > 0.5)


def _is_of(outline: Outline, look: _Look) -> bool:
    """Whether the detector means somebody who was looked at already."""
    apart_px = float(np.hypot(*(outline.hips_px - look.person.hips_px)))
    return apart_px < _SAME_HIPS * outline.reach_px


def _person_box(points_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """Centre x, centre y and half side of the square around the landmarks."""
    low, high = points_px.min(axis=0), points_px.max(axis=0)
    return np.array([*(low + high) / 2, max(*(high - low), 32.0) / 2])


def _crop_matrix(box: NDArray[np.float64], crop: _Crop) -> tuple[NDArray[np.float64], int]:
    """(2, 3) affine map from the picture to a square crop, and the crop's side.

    Crops are square because the vendor projects landmarks exactly only from square pictures.
    """
    centre_x, centre_y, half = box
    half = half * (1 + crop.margin)
    centre_x, centre_y = centre_x + crop.shift_x * half, centre_y + crop.shift_y * half
    scale = min(1.0, _CROP_SIDE_PX / (2 * half))
    side_px = max(round(2 * half * scale), 32)
    sign = -1.0 if crop.mirrored else 1.0
    middle_px = (side_px - 1) / 2
    matrix = np.array(
        [
            [sign * scale, 0.0, middle_px - sign * scale * centre_x],
            [0.0, scale, middle_px - scale * centre_y],
        ]
    )
    return matrix, side_px


def _warp(
    pixels: NDArray[np.uint8], to_crop: NDArray[np.float64], side_px: int
) -> NDArray[np.uint8]:
    """The crop, out of a halved picture where it is that much smaller."""
    while abs(to_crop[0, 0]) <= 0.5:
        pixels, to_crop = halved(pixels), _of_halved(to_crop)
    crop = cv2.warpAffine(pixels, to_crop, (side_px, side_px), borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(crop, np.uint8)


def _of_halved(to_crop: NDArray[np.float64]) -> NDArray[np.float64]:
    """The same map from the halved picture."""
    offset = to_crop[:, 2] + to_crop[:, :2] @ (0.5, 0.5)
    return np.column_stack([2 * to_crop[:, :2], offset])


def _laid(
    mask: NDArray[np.float32], to_photo: NDArray[np.float64], shape: tuple[int, ...]
) -> NDArray[np.float32]:
    """A crop's mask on the whole picture, no finer than the model sees it."""
    shrink = min(1.0, _MASK_SIDE_PX / max(shape[:2]))
    size = round(shape[1] * shrink), round(shape[0] * shrink)
    factors = np.array([[size[0] / shape[1]], [size[1] / shape[0]]])
    to_laid = to_photo * factors
    to_laid[:, 2:] += (factors - 1) / 2
    return np.asarray(cv2.warpAffine(mask, to_laid, size), np.float32)


def _enlarged(mask: NDArray[np.float32], shape: tuple[int, ...]) -> NDArray[np.float32]:
    """A laid mask at the picture's own size."""
    return np.asarray(cv2.resize(mask, (shape[1], shape[0])), np.float32)
