"""Bright things that are no paper, in the place of the paper.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.drawing import (
    bare_wall,
    blank,
    in_quad,
    on_wall,
    paint,
)
from calibration.doubtful.look_alikes.look_alike import (
    Box,
    Change,
    LookAlike,
    box_px,
    lamp,
    on_shirt,
    rectangle,
    said,
    soft,
    window,
)
from pose_fit.body.body import Body
from pose_fit.reference.request import ReferenceRequest

__all__ = ["BRIGHT_THINGS"]

_Pixels = NDArray[np.uint8]


def _sign(box: Box) -> Change:
    """A bright board with lines of text."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        out = rectangle(box, 235)(pixels, _)
        x0, y0, x1, y1 = box_px(pixels, box)
        height = y1 - y0
        for row in range(5):
            place = (x0 + (x1 - x0) // 10, y0 + height * (2 * row + 2) // 12)
            cv2.putText(
                out, "SALE 25 %", place, cv2.FONT_HERSHEY_SIMPLEX, height / 330, (20, 20, 20), 2
            )
        return out

    return change


def _globe(x: float, y: float, part: float) -> Change:
    """A round glowing lamp whose light runs over the wall."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        rows, columns = np.indices((height, width))
        off = np.hypot(columns - x * width, rows - y * height) / (part * width)
        glow = np.where(off < 1, 1.0, np.exp(-((off - 1) ** 2) / 0.5) * 0.8)
        return np.clip(pixels + 170 * glow[..., None], 0, 255).astype(np.uint8)

    return change


def _shade(x: float, y: float, part: float) -> Change:
    """A lampshade, narrower at its top, lit from within; its light falls on the wall below."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        half, tall = part * width, 2.4 * part * width
        outline = np.array([[-0.8, 0], [0.8, 0], [1, 1], [-1, 1]]) * [half, tall]
        spread = np.zeros((height, width), np.float32)
        corners = np.round(outline + np.array([x * width, y * height])).astype(np.int32)
        cv2.fillConvexPoly(spread, corners, (1.0,))
        halo = cv2.GaussianBlur(spread, (0, 0), half / 2)[..., None]
        lit = pixels + 90 * halo
        return np.clip(np.where(spread[..., None] > 0, 242, lit), 0, 255).astype(np.uint8)

    return change


def _mirror(x: float, y: float, wide: float) -> Change:
    """A mirror that shows a bright room: a slope of light from one corner to the other."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down = round(1.35 * across)
        rows, columns = np.indices((down, across))
        light = 150 + 95 * (rows / down + columns / across) / 2
        out = pixels.copy()
        out[top : top + down, left : left + across] = light[..., None]
        return soft(pixels, out)

    return change


def _sun_patch(x: float, y: float, part: float) -> Change:
    """Sun through a window: a slanted patch of bright wall with the wall's own colour."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        shape = np.array([[0, 0], [0.75, 0.28], [0.75, 1.5], [0, 1.22]]) * part * width
        mask = np.zeros((height, width), np.float32)
        corners = np.round(shape + np.array([x * width, y * height])).astype(np.int32)
        cv2.fillConvexPoly(mask, corners, (1.0,))
        feathered = cv2.GaussianBlur(mask, (0, 0), 2.5)[..., None]
        return np.clip(pixels * (1 + 0.7 * feathered), 0, 255).astype(np.uint8)

    return change


def _picture_frame(x: float, y: float, wide: float) -> Change:
    """A white mount in a dark frame around a small picture."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down, edge = round(1.3 * across), max(across // 14, 2)
        out = pixels.copy()
        out[top - edge : top + down + edge, left - edge : left + across + edge] = (52, 40, 30)
        out[top : top + down, left : left + across] = 240
        out[top + down // 3 : top + 2 * down // 3, left + across // 3 : left + 2 * across // 3] = (
            120,
            150,
            90,
        )
        return soft(pixels, out)

    return change


def _calendar(x: float, y: float) -> Change:
    """A white page of a month, its upper half a picture."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, wide = round(x * width), round(y * height), round(0.16 * width)
        tall = round(1.4 * wide)
        out = pixels.copy()
        out[top : top + tall, left : left + wide] = 238
        out[top : top + tall // 2, left : left + wide] = (90, 130, 170)
        for row in range(5):
            at = top + tall // 2 + (row + 1) * tall // 12
            for column in range(7):
                place = (left + round((column + 0.3) * wide / 7), at)
                cv2.putText(out, str(row * 7 + column + 1), place, 0, wide / 520, (40, 40, 40), 1)
        return soft(pixels, out)

    return change


def _cloth_on_a_line(x: float, y: float) -> Change:
    """A white towel that hangs down from two pegs, its lower edge a curve."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        wide, tall = 0.15 * width, 0.16 * height
        along = np.linspace(0, 1, 30)
        sag = 0.12 * tall * np.sin(np.pi * along)
        upper = np.stack([x * width + wide * along, y * height + sag], axis=1)
        lower = np.stack([x * width + wide * along, y * height + tall + 1.4 * sag], axis=1)
        out = pixels.copy()
        outline = np.round(np.concatenate([upper, lower[::-1]])).astype(np.int32)
        cv2.fillPoly(out, [outline], (232, 230, 226), cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _tiles(box: tuple[float, float, float, float], across: int) -> Change:
    """White tiles with grey joints from one end of the box to the other."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        x0, y0, x1, y1 = box_px(pixels, box)
        out = pixels.copy()
        out[y0:y1, x0:x1] = 225
        side = (x1 - x0) // across
        for x in range(x0, x1, side):
            out[y0:y1, x : x + 2] = 150
        for y in range(y0, y1, round(1.4 * side)):
            out[y : y + 2, x0:x1] = 150
        return soft(pixels, out)

    return change


def _envelope(x: float, y: float, wide: float) -> Change:
    """A white envelope with the lines of its flap."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down = round(0.7 * across)
        out = pixels.copy()
        out[top : top + down, left : left + across] = 236
        tip = (left + across // 2, top + round(0.55 * down))
        for corner in ((left, top), (left + across, top)):
            cv2.line(out, corner, tip, (196, 194, 190), 2, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _slats(x: float, y: float, wide: float) -> Change:
    """A white air vent: slats with shadows between them."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down = round(1.35 * across)
        out = pixels.copy()
        out[top : top + down, left : left + across] = 234
        for row in range(top + down // 10, top + down - down // 10, max(down // 12, 3)):
            out[row : row + 2, left + across // 10 : left + across - across // 10] = 150
        return soft(pixels, out)

    return change


def _cushion(x: float, y: float, wide: float) -> Change:
    """A white cushion with round corners, shaded towards its edge."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        rows, columns = np.indices((height, width)).astype(float)
        across, down = wide * width / 2, 1.3 * wide * width / 2
        off = (np.abs(columns - x * width) / across) ** 5 + (np.abs(rows - y * height) / down) ** 5
        shade = np.clip(240 - 60 * off, 0, 255)[..., None]
        return soft(pixels, np.where(off[..., None] < 1, shade, pixels).astype(np.uint8))

    return change


def _poster(left_mm: float, top_mm: float) -> Change:
    """A framed poster of hills behind glass, with a line of text and a streak of glare."""

    def change(pixels: _Pixels, child: Body) -> _Pixels:
        wide, tall, edge = 420, 594, 14
        poster = blank(wide, tall, (38, 36, 34))
        sky = np.linspace(0, 1, tall - 2 * edge)[:, None, None]
        poster[edge:-edge, edge:-edge, :3] = (
            (1 - sky) * (96, 148, 190) + sky * (236, 214, 176)
        ).astype(np.uint8)
        cv2.circle(poster, (290, 230), 46, (250, 236, 200, 255), cv2.FILLED, cv2.LINE_AA)
        along = np.linspace(edge, wide - edge, 40)
        for at, wave, rgb in ((360, 34, (112, 132, 120)), (440, 24, (66, 92, 80))):
            top = at - wave * np.sin(along / 60 + at)
            hill = np.concatenate(
                [np.stack([along, top], axis=1), [[wide - edge, tall - edge], [edge, tall - edge]]]
            )
            cv2.fillPoly(poster, [np.round(hill).astype(np.int32)], (*rgb, 255), cv2.LINE_AA)
        cv2.putText(
            poster, "THE HILLS", (66, 120), cv2.FONT_HERSHEY_DUPLEX, 1.9, (250, 248, 240, 255), 4
        )
        glare = np.zeros((tall, wide), np.float32)
        streak = np.array([[90, edge], [190, edge], [60, tall - edge], [edge, tall - edge]])
        cv2.fillConvexPoly(glare, streak.astype(np.int32), (1.0,))
        glare[:, :edge] = 0
        shine = 60 * cv2.GaussianBlur(glare, (0, 0), 4)[..., None]
        poster[..., :3] = np.clip(poster[..., :3] + shine, 0, 255).astype(np.uint8)
        out = bare_wall(pixels, "flat_7", child, from_mm=(0.0, -420.0))
        return paint(out, poster, on_wall("flat_7", left_mm, top_mm), child=child, shadow=0.4)

    return change


def _tablet(pixels: _Pixels, child: Body) -> _Pixels:
    """A tablet that leans on the wall beside the child, a white page on its screen."""
    height, width = pixels.shape[:2]
    tablet = np.zeros((500, 360, 4), np.uint8)
    radius = 26
    for low, high in (((radius, 0), (360 - radius, 500)), ((0, radius), (360, 500 - radius))):
        cv2.rectangle(tablet, low, high, (22, 22, 24, 255), cv2.FILLED)
    for corner in ((radius, radius), (359 - radius, radius), (radius, 499 - radius)):
        cv2.circle(tablet, corner, radius, (22, 22, 24, 255), cv2.FILLED, cv2.LINE_AA)
    cv2.circle(tablet, (359 - radius, 499 - radius), radius, (22, 22, 24, 255), cv2.FILLED)
    tablet[26:474, 22:338, :3] = (238, 243, 250)
    for row in range(16):
        cv2.line(tablet, (60, 110 + 20 * row), (300, 110 + 20 * row), (150, 154, 160, 255), 5)
    cv2.rectangle(tablet, (60, 56), (220, 80), (60, 66, 76, 255), cv2.FILLED)
    out = bare_wall(pixels, "flat_4", child, from_mm=(0.0, -420.0))
    corners = np.array([[0.745, 0.618], [0.874, 0.616], [0.880, 0.738], [0.742, 0.741]])
    return paint(out, tablet, in_quad(tablet, corners * [width, height]), shadow=0.35, lit=False)


def _curtains(pixels: _Pixels, child: Body) -> _Pixels:
    """A window between two curtains: daylight in the gap that they leave."""
    height, width = pixels.shape[:2]
    out = bare_wall(pixels, "letter_2", child)
    pane = blank(300, 400, (244, 247, 250))
    pane[..., :3] = np.clip(pane[..., :3] - np.linspace(0, 14, 400)[:, None, None], 0, 255)
    frame = np.array([[0.735, 0.205], [0.955, 0.195], [0.955, 0.560], [0.735, 0.565]])
    out = paint(out, pane, in_quad(pane, frame * [width, height]), shadow=0.0, lit=False)
    wide, tall = 300, 900
    rows, columns = np.indices((tall, wide)).astype(float)
    for left, right, top, gap in ((0.660, 0.830, 0.160, 1), (0.880, 1.010, 0.152, -1)):
        # Each curtain is gathered a little towards its own side at two thirds of its height.
        tuck = 0.16 * wide * np.exp(-(((rows / tall - 0.66) / 0.16) ** 2))
        inner = columns + gap * tuck if gap > 0 else columns - tuck
        fold = 0.80 + 0.20 * np.sin(inner / wide * 2 * np.pi * 6 + 0.4 * np.sin(rows / 160))
        cloth = np.zeros((tall, wide, 4), np.uint8)
        cloth[..., :3] = np.clip(fold[..., None] * (186, 158, 120), 0, 255)
        hidden = columns > wide - tuck if gap > 0 else columns < tuck
        cloth[..., 3] = np.where(hidden, 0, 255)
        place = np.array([[left, top], [right, top - 0.006], [right, 0.668], [left, 0.676]])
        out = paint(out, cloth, in_quad(cloth, place * [width, height]), child=child, shadow=0.3)
    rod = blank(400, 8, (90, 70, 52))
    bar = np.array([[0.640, 0.155], [1.01, 0.141], [1.01, 0.150], [0.640, 0.164]])
    return paint(out, rod, in_quad(rod, bar * [width, height]), shadow=0.3)


BRIGHT_THINGS: Final[tuple[LookAlike, ...]] = (
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
    LookAlike("globe lamp", "flat_1", _globe(0.76, 0.40, 0.07), "letter"),
    LookAlike("globe lamp, left", "flat_5", _globe(0.15, 0.35, 0.06), "a4"),
    LookAlike("lampshade", "flat_3", _shade(0.78, 0.32, 0.07), "a4"),
    LookAlike("lampshade, low", "flat_6", _shade(0.16, 0.46, 0.08), "letter"),
    LookAlike("mirror", "flat_2", _mirror(0.68, 0.30, 0.15), "letter"),
    LookAlike("mirror, left", "flat_7", _mirror(0.06, 0.40, 0.16), "a4"),
    LookAlike("sun on the wall", "flat_4", _sun_patch(0.66, 0.35, 0.18), "letter"),
    LookAlike("sun on the wall, left", "flat_8", _sun_patch(0.06, 0.40, 0.20), "a4"),
    LookAlike("framed picture", "flat_1", _picture_frame(0.68, 0.35, 0.15), "a4"),
    LookAlike("calendar", "flat_1", _calendar(0.62, 0.30), "letter"),
    LookAlike("calendar, low", "flat_5", _calendar(0.08, 0.50), "a4"),
    LookAlike("towel", "flat_2", _cloth_on_a_line(0.68, 0.40), "letter"),
    LookAlike("towel, left", "flat_6", _cloth_on_a_line(0.08, 0.45), "a4"),
    LookAlike("window of four panes, fresh", "flat_3", window((0.66, 0.22, 0.94, 0.48), 2), "a4"),
    LookAlike("bright door leaf", "flat_7", rectangle((0.72, 0.20, 0.96, 0.78), 228), "letter"),
    LookAlike("lamp, fresh", "flat_4", lamp((0.70, 0.30, 0.84, 0.42)), "letter"),
    LookAlike("print on the shirt, fresh", "flat_8", on_shirt(0.26), "a4"),
    LookAlike(
        "leaning board, fresh",
        "flat_1",
        rectangle((0.68, 0.42, 0.82, 0.56), 240, angle_deg=17),
        "letter",
    ),
    LookAlike(
        "fading patch, fresh", "flat_6", rectangle((0.70, 0.45, 0.84, 0.62), 235, fade=True), "a4"
    ),
    LookAlike(
        "white tiles", "flat_1", _tiles((0.62, 0.25, 0.98, 0.60), 4), "a4", score_set="first trial"
    ),
    LookAlike("envelope", "flat_4", _envelope(0.68, 0.42, 0.18), "a4", score_set="first trial"),
    LookAlike("air vent", "flat_7", _slats(0.70, 0.40, 0.14), "letter", score_set="first trial"),
    LookAlike("cushion", "flat_2", _cushion(0.78, 0.48, 0.16), "a4", score_set="first trial"),
    LookAlike(
        "framed poster",
        "flat_7",
        _poster(-330, -560),
        request=said(ReferenceRequest("a4")),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "tablet",
        "flat_4",
        _tablet,
        request=said(ReferenceRequest("letter")),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "curtains",
        "letter_2",
        _curtains,
        request=said(ReferenceRequest("letter")),
        score_set="second trial",
        may_say="no number",
    ),
)
