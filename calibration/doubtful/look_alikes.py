"""Bright things that are no paper, and bodies that are not one standing child.

Two sets of each: the first was looked at while the rules of today were made, the second was made
after that and scored once. Places are parts of the picture's width and height, as in `changes`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful import changes as c
from calibration.doubtful.cases import base_of
from pose_fit.body.body import Body, PoseModel
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.reference import PointReference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = [
    "LOOK_ALIKES",
    "Change",
    "LookAlike",
    "lamp",
    "look_alike_report",
    "on_shirt",
    "rectangle",
    "soft",
    "told_of",
    "window",
]

_Pixels = NDArray[np.uint8]
_Box = tuple[float, float, float, float]
#: Words that say nothing of a wrong object or of a body that is not one standing child.
_ABOUT_SIZE: Final = frozenset({"print_scale_unknown", "size_on_trust", "view_oblique"})
#: Where the object of each sample hangs.
_HANGS: Final[dict[str, _Box]] = {
    "sheet_1": (0.590, 0.535, 0.735, 0.670),
    "sheet_2": (0.600, 0.510, 0.727, 0.637),
    "sheet_3": (0.265, 0.465, 0.435, 0.630),
    "letter_1": (0.588, 0.476, 0.708, 0.596),
    "letter_2": (0.688, 0.460, 0.788, 0.556),
    "a4_1": (0.570, 0.482, 0.706, 0.618),
}
Change = Callable[[_Pixels, Body], _Pixels]


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
        What somebody says and clicks instead; it needs the photo and the body.
    """

    name: str
    base: str
    change: Change
    paper: Literal["letter", "a4"] | None = None
    request: Callable[[Photo, Body], ReferenceRequest] | None = None


def rectangle(box: _Box, level: int, *, fade: bool = False, angle_deg: float = 0.0) -> Change:
    """A bright upright rectangle; with ``fade`` it runs into the wall at its left."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        x0, y0, x1, y1 = _px(pixels, box)
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


def window(box: _Box, panes: int) -> Change:
    """Bright panes between dark bars that run across all of them."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        x0, y0, x1, y1 = _px(pixels, box)
        out = pixels.copy()
        out[y0:y1, x0:x1] = 240
        bar = max((x1 - x0) // 40, 3)
        for at in np.linspace(x0, x1, panes + 1).astype(int):
            out[y0:y1, max(at - bar, 0) : at + bar] = 70
        for at in np.linspace(y0, y1, panes + 1).astype(int):
            out[max(at - bar, 0) : at + bar, x0:x1] = 70
        return soft(pixels, out)

    return change


def _sign(box: _Box) -> Change:
    """A bright board with lines of text."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        out = rectangle(box, 235)(pixels, _)
        x0, y0, x1, y1 = _px(pixels, box)
        height = y1 - y0
        for row in range(5):
            place = (x0 + (x1 - x0) // 10, y0 + height * (2 * row + 2) // 12)
            cv2.putText(
                out, "SALE 25 %", place, cv2.FONT_HERSHEY_SIMPLEX, height / 330, (20, 20, 20), 2
            )
        return out

    return change


def lamp(box: _Box) -> Change:
    """A glowing square whose light runs over its edges."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        x0, y0, x1, y1 = _px(pixels, box)
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


def _second_head(aside: float, above: float, size: float = 1.0) -> Change:
    """The child's head once more, so many legs to the side and above: somebody who hugs it."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        nose, reach = body.point_px("nose"), round(0.2 * body.leg_px)
        x, y = np.round(nose).astype(int)
        head = cv2.resize(
            pixels[y - reach : y + reach, x - reach : x + reach], None, fx=size, fy=size
        )[:, ::-1]
        round_mask = np.zeros(head.shape[:2], np.float32)
        middle = head.shape[0] // 2
        cv2.circle(round_mask, (middle, middle), round(0.85 * middle), (1.0,), cv2.FILLED)
        soft = cv2.GaussianBlur(round_mask, (0, 0), middle / 12)[..., None]
        left, top = x + round(aside * body.leg_px) - middle, y - round(above * body.leg_px) - middle
        out = pixels.copy()
        room = out[top : top + head.shape[0], left : left + head.shape[1]]
        room[:] = (soft * head + (1 - soft) * room).astype(np.uint8)
        return out

    return change


def _foot_in_air(side: str, short: float) -> Change:
    """One shank pointing at the camera: knee to sole squeezed to this part of its height."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        knee, toe = body.points_px((f"{side}_knee", f"{side}_toe"))  # type: ignore[arg-type]
        middle = (body.point_px("left_ankle") + body.point_px("right_ankle")) / 2
        away = 0.24 * body.leg_px
        x0, x1 = sorted((middle[0], middle[0] + np.sign(knee[0] - middle[0]) * away))
        top, bottom = round(knee[1]), round(toe[1] + 0.04 * body.leg_px)
        left, right = round(x0), round(x1)
        strip = pixels[top:bottom, left:right]
        squeezed = cv2.resize(strip, (right - left, round(short * (bottom - top))))
        out = pixels.copy()
        floor = pixels[bottom : bottom + 1, left:right]
        out[top:bottom, left:right] = floor
        out[top : top + squeezed.shape[0], left:right] = squeezed
        return out

    return change


def _dress(seed: int, *, length: float, fine: float) -> Change:
    """A dress with a print from the waist to this part of the leg."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        rng = np.random.default_rng(seed)
        leg = body.leg_px
        top, bottom = body.hips_px[1] - 0.12 * leg, body.hips_px[1] + length * leg
        shape = np.array(
            [
                (body.hips_px[0] - 0.22 * leg, top),
                (body.hips_px[0] + 0.22 * leg, top),
                (body.hips_px[0] + 0.31 * leg, bottom),
                (body.hips_px[0] - 0.31 * leg, bottom),
            ]
        )
        inside = np.zeros(pixels.shape[:2], np.uint8)
        cv2.fillConvexPoly(inside, np.round(shape).astype(np.int32), (1,))
        spots = cv2.GaussianBlur(
            rng.normal(size=(*pixels.shape[:2], 3)), (0, 0), max(fine * leg, 0.8)
        )
        cloth = np.array([150, 70, 90]) + 75 * spots / spots.std() / 2
        return np.where(inside[..., None] > 0, np.clip(cloth, 0, 255), pixels).astype(np.uint8)

    return change


def soft(before: _Pixels, after: _Pixels) -> _Pixels:
    """What was drawn, as soft as a camera makes it."""
    drawn = (before != after).any(axis=2)
    near = cv2.dilate(drawn.astype(np.uint8), np.ones((5, 5), np.uint8)) > 0
    blurred = np.asarray(cv2.GaussianBlur(after, (0, 0), 0.8), np.uint8)
    return np.where(near[..., None], blurred, after)


def _px(pixels: _Pixels, box: _Box) -> tuple[int, int, int, int]:
    height, width = pixels.shape[:2]
    x0, y0, x1, y1 = box
    return round(x0 * width), round(y0 * height), round(x1 * width), round(y1 * height)


LOOK_ALIKES: Final[tuple[LookAlike, ...]] = (
    # No paper, something bright instead.
    LookAlike(
        "patch above the head", "letter_1", rectangle((0.55, 0.06, 0.66, 0.17), 245), "letter"
    ),
    LookAlike("patch far above", "a4_1", rectangle((0.60, 0.02, 0.70, 0.12), 240), "a4"),
    LookAlike(
        "fading patch", "letter_2", rectangle((0.65, 0.45, 0.76, 0.56), 245, fade=True), "letter"
    ),
    LookAlike(
        "fading patch, fainter",
        "sheet_2",
        rectangle((0.62, 0.5, 0.74, 0.62), 225, fade=True),
        "a4",
    ),
    LookAlike("window of four panes", "a4_1", window((0.60, 0.35, 0.84, 0.60), 2), "a4"),
    LookAlike("window of nine panes", "sheet_1", window((0.60, 0.30, 0.93, 0.62), 3), "letter"),
    LookAlike("large window", "letter_1", window((0.62, 0.20, 0.98, 0.50), 2), "a4"),
    LookAlike("shop sign", "letter_2", _sign((0.64, 0.44, 0.78, 0.58)), "a4"),
    LookAlike("sign on the other side", "sheet_3", _sign((0.10, 0.42, 0.24, 0.56)), "letter"),
    LookAlike("lamp beside the head", "a4_1", lamp((0.62, 0.28, 0.74, 0.38)), "letter"),
    LookAlike("lamp beside the legs", "sheet_1", lamp((0.62, 0.55, 0.73, 0.66)), "a4"),
    LookAlike("print on the shirt", "letter_1", on_shirt(0.30), "letter"),
    LookAlike("large print on the shirt", "sheet_2", on_shirt(0.38), "a4"),
    LookAlike(
        "leaning board", "letter_2", rectangle((0.65, 0.45, 0.76, 0.56), 235, angle_deg=24), "a4"
    ),
    LookAlike("patch cut by the border", "a4_1", rectangle((0.93, 0.45, 1.0, 0.57), 245), "a4"),
    # Not one standing child; the sample's own object stays.
    LookAlike("hugged from the left", "sheet_1", _second_head(-0.36, 0.0)),
    LookAlike("hugged from the right, higher", "sheet_2", _second_head(0.32, 0.12)),
    LookAlike("a head over the shoulder", "letter_1", _second_head(0.28, -0.10, 0.9)),
    LookAlike("a large head behind", "a4_1", _second_head(-0.34, 0.15, 1.2)),
    LookAlike("a head beside, smaller", "sheet_3", _second_head(-0.36, 0.0, 0.8)),
    LookAlike("left foot in the air", "sheet_1", _foot_in_air("left", 0.68)),
    LookAlike("right foot in the air", "sheet_2", _foot_in_air("right", 0.70)),
    LookAlike("left foot in the air, less", "letter_2", _foot_in_air("left", 0.76)),
    LookAlike("right foot in the air, less", "a4_1", _foot_in_air("right", 0.76)),
    LookAlike("left foot far in the air", "sheet_3", _foot_in_air("left", 0.60)),
    LookAlike("dress, fine print", "sheet_1", _dress(1, length=0.55, fine=0.006)),
    LookAlike("dress, coarse print", "sheet_2", _dress(2, length=0.50, fine=0.014)),
    LookAlike("long dress, fine print", "letter_1", _dress(3, length=0.70, fine=0.005)),
    LookAlike("dress, middling print", "a4_1", _dress(4, length=0.55, fine=0.009)),
    LookAlike("short dress, fine print", "sheet_3", _dress(5, length=0.42, fine=0.006)),
)


def look_alike_report(pose: PoseModel) -> str:
    """What was told of each, as a table."""
    from calibration.doubtful.fresh_look_alikes import FRESH_LOOK_ALIKES

    lines = [
        "# Look-alikes",
        "",
        "Made by `python -m calibration look-alikes`: bright things in place of the paper, points on"
        " something else, and bodies that are not one child on two straight legs. A number is"
        " *unflagged* where no code is told but those about the object’s size. Nobody states the"
        " legwear; the heels are said to be down.",
    ]
    for title, cases in (
        ("Looked at while the rules were made", LOOK_ALIKES),
        ("Made after the rules were fixed, scored once", FRESH_LOOK_ALIKES),
    ):
        lines += ["", f"## {title}", "", *_table(cases, pose)]
    return "\n".join([*lines, ""])


def _table(cases: tuple[LookAlike, ...], pose: PoseModel) -> list[str]:
    rows, numbers, unflagged = [], 0, 0
    for case in cases:
        codes, inseam_mm = told_of(case, pose)
        numbers += inseam_mm is not None
        unflagged += inseam_mm is not None and not set(codes) - _ABOUT_SIZE
        number = "none" if inseam_mm is None else f"{inseam_mm:.0f} mm"
        rows.append(f"| {case.name} | {case.base} | {', '.join(codes) or 'nothing'} | {number} |")
    return [
        f"{len(cases)} pictures, {numbers} with a number, {unflagged} of them unflagged.",
        "",
        "| picture | made of | told | number |",
        "|---|---|---|---|",
        *rows,
    ]


def told_of(case: LookAlike, pose: PoseModel) -> tuple[tuple[str, ...], float | None]:
    """The codes told, and the inseam given, or None."""
    photo, body = _seen(case.base, pose)
    _, question = base_of(case.base)
    request = question.request
    if case.paper is not None:
        request = ReferenceRequest(case.paper)
        photo = c.covered_at(*_object_box(case.base, photo))(photo)
    if case.request is not None:
        request = case.request(photo, body)
    photo = c.with_pixels(photo, case.change(photo.pixels, body))
    stated = Stated(soles_mm=question.said.soles_mm, heels_down=True)
    told = measure_photo(photo, PhotoTask(request, stated, question.child), pose=pose)
    if isinstance(told, Refusal):
        return tuple(reason.code for reason in told.reasons), None
    return tuple(warning.code for warning in told.inseam.warnings), told.inseam.mean_mm


@cache
def _seen(base: str, pose: PoseModel) -> tuple[Photo, Body]:
    photo, _ = base_of(base)
    body = pose.find(photo)
    assert body is not None
    return photo, body


def _object_box(base: str, photo: Photo) -> _Box:
    """Where the base's object hangs, with the paper around a sheet's marks."""
    if base in _HANGS:
        return _HANGS[base]
    sheet = find_sheet(photo, placement="wall", ruler_mm=None)
    assert isinstance(sheet, PointReference)
    low, high = sheet.image_px.min(axis=0), sheet.image_px.max(axis=0)
    x, y = np.stack([low - 0.4 * (high - low), high + 0.4 * (high - low)]).T
    return (
        float(x[0] / photo.width_px),
        float(y[0] / photo.height_px),
        float(x[1] / photo.width_px),
        float(y[1] / photo.height_px),
    )
