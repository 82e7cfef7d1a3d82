"""Drawing into a picture so that it looks photographed: in perspective, lit, behind the child.

A texture is an (H, W, 4) array of uint8, the last channel its opacity; a figure is a texture cut
out of another picture. Everything returns new pixels.
"""

import json
from dataclasses import dataclass
from functools import cache
from typing import Literal

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.doubtful.cases import SAMPLES, base_of
from calibration.doubtful.look_alikes.look_alike import Change
from pose_fit.body.body import Body
from pose_fit.body.mediapipe_mask import people_mask
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.reference import PointReference

__all__ = [
    "Figure",
    "Side",
    "bare_wall",
    "blank",
    "child_alpha",
    "clone",
    "cut_out",
    "figure_of",
    "in_box",
    "in_quad",
    "moved_child",
    "on_wall",
    "over",
    "paint",
    "sheet_points_px",
    "wall_plane",
    "without_child",
]

_Pixels = NDArray[np.uint8]
Side = Literal["left", "right"]
_Matrix = NDArray[np.float64]
#: Sides of the papers that hang in the samples, millimetres.
_PAPER_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}


def blank(width: int, height: int, rgb: ArrayLike) -> _Pixels:
    """An opaque texture of one colour."""
    texture = np.full((height, width, 4), 255, np.uint8)
    texture[..., :3] = rgb
    return texture


def sheet_points_px(base: str) -> NDArray[np.float64]:
    """(4, 2) array: corners of a sample's object, at the size at which the samples are used."""
    truth = json.loads((SAMPLES / f"{base}.json").read_text("utf-8"))
    points = [[float(one) for one in pair.split(",")] for pair in truth["points"].split()]
    scale = base_of(base)[0].pixels.shape[0] / cv2.imread(str(SAMPLES / f"{base}.jpg")).shape[0]
    return scale * np.array(points)


@cache
def wall_plane(base: str) -> _Matrix:
    """(3, 3) homography from the wall to the picture.

    Millimetres right and down from the middle of the paper that hangs there.
    """
    photo, question = base_of(base)
    kind = question.request.kind
    if kind in _PAPER_MM:
        half = np.array(_PAPER_MM[kind]) / 2
        corners_mm = half * [[-1, -1], [1, -1], [1, 1], [-1, 1]]
        corners_px = sheet_points_px(base)
    else:
        sheet = find_sheet(photo, placement="wall", ruler_mm=None)
        assert isinstance(sheet, PointReference)
        corners_mm = sheet.object_mm - sheet.object_mm.mean(axis=0)
        corners_px = sheet.image_px
    to_picture, _inliers = cv2.findHomography(corners_mm, corners_px)
    return np.asarray(to_picture, float)


def on_wall(base: str, left_mm: float, top_mm: float, *, mm_per_texel: float = 1.0) -> _Matrix:
    """Where a texture lands that hangs on a base's wall with this left upper corner."""
    texels = np.array([[mm_per_texel, 0, left_mm], [0, mm_per_texel, top_mm], [0, 0, 1]])
    placed: _Matrix = wall_plane(base) @ texels
    return placed


def in_quad(texture: _Pixels, corners_px: ArrayLike) -> _Matrix:
    """Where a texture lands whose corners, clockwise from the left upper one, are these."""
    height, width = texture.shape[:2]
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    placed = cv2.getPerspectiveTransform(corners, np.asarray(corners_px, np.float32))
    return np.asarray(placed, float)


def in_box(texture: _Pixels, left: float, top: float, right: float, bottom: float) -> _Matrix:
    """Where an upright texture lands between these pixels."""
    return in_quad(texture, [[left, top], [right, top], [right, bottom], [left, bottom]])


def paint(
    pixels: _Pixels,
    texture: _Pixels,
    placed: _Matrix,
    *,
    child: Body | None = None,
    shadow: float = 0.3,
    lit: bool = True,
) -> _Pixels:
    """The texture in the picture, lit as the wall is, with a soft shadow below it.

    Parameters
    ----------
    child
        Stays in front where it is given.
    shadow
        The part of the light that the shadow takes.
    lit
        Whether it gets darker and brighter with the wall; a screen does not.
    """
    size = (pixels.shape[1], pixels.shape[0])
    alpha, colour = _warped(texture, placed, size)
    light = np.ones(pixels.shape[:2])
    if lit and alpha.max() > 0:
        grey = cv2.GaussianBlur(pixels.mean(axis=2), (0, 0), 0.06 * size[1])
        light = np.clip(grey / np.average(grey, weights=alpha), 0.75, 1.2)
    reach = 0.006 * size[1]
    fallen = cv2.warpAffine(alpha, np.array([[1, 0, 0.7 * reach], [0, 1, reach]]), size)
    dark = 1 - shadow * cv2.GaussianBlur(fallen, (0, 0), reach)
    out = pixels * dark[..., None] * (1 - alpha[..., None]) + colour * light[..., None]
    out += np.random.default_rng(3).normal(0, 1.2, out.shape) * alpha[..., None]
    if child is not None:
        front = child_alpha(child)[..., None]
        out = front * pixels + (1 - front) * out
    return np.asarray(np.clip(out, 0, 255), np.uint8)


def _warped(
    texture: _Pixels, placed: _Matrix, size: tuple[int, int]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Opacity and colour times opacity of the texture in the picture, smoothed where it shrinks."""
    middle = np.array(texture.shape[1::-1]) / 2
    ends = (middle + np.array([[0, 0], [1, 0], [0, 1]]))[None]
    seen = cv2.perspectiveTransform(ends, placed)[0]
    scale = np.sqrt(abs(np.linalg.det(seen[1:] - seen[0])))
    opacity = texture[..., 3:] / 255.0
    stack = np.concatenate([texture[..., :3] * opacity, opacity], axis=2)
    # Without a border the edge of the texture would be cut hard.
    stack = np.pad(stack, ((4, 4), (4, 4), (0, 0)))
    stack = cv2.GaussianBlur(stack, (0, 0), max(0.5 / scale, 0.3))
    moved = placed @ np.array([[1, 0, -4], [0, 1, -4], [0, 0, 1]])
    seen_px = np.asarray(cv2.warpPerspective(stack, moved, size, flags=cv2.INTER_LINEAR), float)
    return seen_px[..., 3], seen_px[..., :3]


def child_alpha(child: Body) -> NDArray[np.float64]:
    """(H, W) array in [0, 1]: how much of each pixel is the child's.

    The pose model is less sure of hair than of the rest.
    """
    mask = child.mask.astype(float)
    chin = round(float(child.point_px("nose")[1]) + 0.1 * child.leg_px)
    alpha = np.clip((mask - 0.45) / 0.3, 0, 1)
    alpha[:chin] = np.clip((mask[:chin] - 0.18) / 0.4, 0, 1)
    return alpha


def without_child(
    pixels: _Pixels,
    child: Body,
    *,
    side: Side,
    slope: float = 0.0,
    more: float = 0.05,
    whole: bool = False,
) -> _Pixels:
    """Wall and floor in the child's place, taken from its left or right in the picture.

    Parameters
    ----------
    slope
        How far the foot of the wall falls in the picture for each pixel to the right.
    more
        How far beyond the child's outline, in legs: its shadow.
    whole
        Whether what is between arms and legs is taken along.
    """
    reach = 2 * round(more * child.leg_px) + 1
    hole = (child.mask > 0.2).astype(np.uint8)
    if whole:
        cv2.fillConvexPoly(hole, cv2.convexHull(cv2.findNonZero(hole)), (1,))
    hole = np.asarray(cv2.dilate(hole, np.ones((reach, reach), np.uint8)), np.uint8)
    aside = (cv2.boundingRect(hole)[2] + 2) * (1 if side == "right" else -1)
    return clone(pixels, hole, (aside, slope * aside))


def bare_wall(
    pixels: _Pixels, base: str, child: Body, *, from_mm: tuple[float, float] = (0.0, -450.0)
) -> _Pixels:
    """The wall without the sheet that hangs there, taken from so far to the right and below."""
    box_mm = np.array([[-125.0, -170], [125, -170], [125, 170], [-125, 170]])
    around = cv2.perspectiveTransform(np.stack([box_mm, box_mm + from_mm]), wall_plane(base))
    hole = np.zeros(pixels.shape[:2], np.uint8)
    cv2.fillConvexPoly(hole, np.round(around[0]).astype(np.int32), (1,))
    aside, below = (around[1] - around[0]).mean(axis=0)
    front = child_alpha(child)[..., None]
    out = front * pixels + (1 - front) * clone(pixels, hole, (aside, below))
    return out.astype(np.uint8)


def clone(pixels: _Pixels, hole: _Pixels, by_px: tuple[float, float]) -> _Pixels:
    """What is so far to the right and below, in the hole and as bright as what is around it."""
    height, width = pixels.shape[:2]
    shift = np.array([[1, 0, -by_px[0]], [0, 1, -by_px[1]]])
    beside = cv2.warpAffine(pixels, shift, (width, height), borderMode=cv2.BORDER_REFLECT)
    hole = hole.copy()
    hole[:2], hole[-2:], hole[:, :2], hole[:, -2:] = 0, 0, 0, 0
    x, y, wide, tall = cv2.boundingRect(hole)
    middle = (x + wide // 2, y + tall // 2)
    cloned = cv2.seamlessClone(beside, pixels, 255 * hole, middle, cv2.NORMAL_CLONE)
    return np.asarray(cloned, np.uint8)


@dataclass(frozen=True, eq=False, slots=True)
class Figure:
    """Somebody cut out of a picture: the texture, and where hips and ankles are in it."""

    texture: _Pixels
    body: Body

    def placed(
        self, ankles_px: ArrayLike, leg_px: float, *, turn_deg: float = 0.0, mirrored: bool = False
    ) -> _Matrix:
        """Where the figure lands that stands here with legs of this length, turned about its feet."""
        factor = leg_px / self.body.leg_px
        c, s = factor * np.cos(np.radians(turn_deg)), factor * np.sin(np.radians(turn_deg))
        turned = np.array([[c, -s], [s, c]]) @ np.diag([-1.0 if mirrored else 1.0, 1.0])
        return np.block(
            [
                [turned, (np.asarray(ankles_px, float) - turned @ self.body.ankles_px)[:, None]],
                [np.zeros((1, 2)), np.ones((1, 1))],
            ]
        )


def figure_of(base: str, pixels: _Pixels | None = None) -> Figure:
    """The child of a base, cut out; or of its pixels after a change."""
    photo, body = _seen(base)
    alpha = np.round(255 * child_alpha(body)).astype(np.uint8)
    rgb = photo if pixels is None else pixels
    return Figure(np.dstack([rgb, alpha]), body)


@cache
def _seen(base: str) -> tuple[_Pixels, Body]:
    photo, _ = base_of(base)
    body = pose_model().find(photo)
    assert body is not None
    return photo.pixels, body


def over(
    pixels: _Pixels,
    figure: Figure,
    placed: _Matrix,
    *,
    child: Body | None = None,
    shadow: float = 0.15,
) -> _Pixels:
    """A figure in the picture; behind the child where that one is given."""
    return paint(pixels, figure.texture, placed, child=child, shadow=shadow, lit=False)


def cut_out(pixels: _Pixels) -> tuple[_Pixels, NDArray[np.float32]]:
    """The room without the child, and (H, W, 1) how much of each pixel is the child."""
    found = np.asarray(people_mask().find(pixels), np.float32)
    share = np.asarray(cv2.GaussianBlur(found, (0, 0), 1.5), np.float32)
    taken = cv2.dilate((share > 0.2).astype(np.uint8), np.ones((25, 25), np.uint8))
    small = cv2.resize(pixels, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA)
    hole = cv2.resize(taken, small.shape[1::-1], interpolation=cv2.INTER_NEAREST)
    filled = cv2.resize(cv2.inpaint(small, hole, 5, cv2.INPAINT_TELEA), pixels.shape[1::-1])
    room = np.where(taken[..., None] > 0, filled, pixels).astype(np.uint8)
    return room, share[..., None]


def moved_child(
    *, turn_deg: float = 0.0, size: float = 1.0, aside: float = 0.0, up: float = 0.0
) -> Change:
    """The child alone turned and made smaller about its feet, and moved, in legs."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        room, share = cut_out(pixels)
        x, y = (float(one) for one in body.ankles_px)
        to = np.array(cv2.getRotationMatrix2D((x, y), turn_deg, size), float)
        to[:, 2] += np.array([aside, -up]) * body.leg_px
        shape = pixels.shape[1::-1]
        child, cover = (cv2.warpAffine(one, to, shape) for one in (pixels, share))
        return np.clip(child * cover[..., None] + room * (1 - cover[..., None]), 0, 255).astype(
            np.uint8
        )

    return change
