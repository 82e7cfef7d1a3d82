"""Paper that is not of the size that was said, or does not hang flat on the wall.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alikes.drawing import (
    bare_wall,
    blank,
    in_quad,
    on_wall,
    paint,
    wall_plane,
)
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, said, soft
from pose_fit.body.body import Body
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.reference import PointReference
from pose_fit.reference.request import ReferenceRequest

__all__ = ["PAPERS", "plain_sheet"]

_Pixels = NDArray[np.uint8]
_WHITE: Final = (228, 226, 221)


def plain_sheet(base: str, width_mm: float, height_mm: float) -> Change:
    """A plain sheet of this size where the printed one hung, in its perspective."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        sheet = find_sheet(base_of(base)[0], placement="wall", ruler_mm=None)
        assert isinstance(sheet, PointReference)
        to_picture, _inliers = cv2.findHomography(sheet.object_mm, sheet.image_px)
        middle = sheet.object_mm.mean(axis=0)
        half = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [width_mm / 2, height_mm / 2]
        corners = cv2.perspectiveTransform((middle + half)[None], to_picture)[0]
        out = pixels.copy()
        fixed = np.round(corners * 16).astype(np.int32)
        cv2.fillConvexPoly(out, fixed, (232, 231, 227), cv2.LINE_AA, 4)
        return soft(pixels, out)

    return change


def _folded(base: str) -> Change:
    """An A4 sheet folded to half its height, its back half a little lower and in the shade."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = bare_wall(pixels, base, body)
        back, front = blank(210, 152, (196, 193, 188)), blank(210, 148, _WHITE)
        fall = np.linspace(1.02, 0.95, 148)[:, None, None]
        front[..., :3] = np.clip(front[..., :3] * fall, 0, 255).astype(np.uint8)
        out = paint(out, back, on_wall(base, -103, -100), child=body, shadow=0.35)
        return paint(out, front, on_wall(base, -105, -102), child=body, shadow=0.12)

    return change


def _curled(base: str) -> Change:
    """The lower right corner of the sheet that hangs there, curled up to its front."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        to_picture = wall_plane(base)
        right, bottom, reach = 108.0, 139.7, 88.0
        gone = np.array([[right, bottom - reach], [right, bottom], [right - 0.8 * reach, bottom]])
        gone_px = cv2.perspectiveTransform((gone * 1.03)[None], to_picture)[0]
        mask = np.zeros(pixels.shape[:2], np.float32)
        cv2.fillConvexPoly(mask, np.round(gone_px * 16).astype(np.int32), (1.0,), cv2.LINE_AA, 4)
        # Wall from below the sheet.
        wall = np.roll(pixels, -round(0.055 * pixels.shape[0]), axis=0)
        soft_mask = cv2.GaussianBlur(mask, (0, 0), 0.8)[..., None]
        out = (soft_mask * wall * 0.93 + (1 - soft_mask) * pixels).astype(np.uint8)
        size = round(reach)
        rows, columns = np.indices((size, size)).astype(float)
        along = (rows + columns / 0.8) / reach
        curl = np.dstack([np.clip(150 + 95 * np.sin(np.pi * along) ** 2, 0, 245)] * 3)
        inside = np.where((along <= 1.0) & (along > 0.12), 255, 0)
        flap = np.dstack([curl, inside]).astype(np.uint8)
        corners = np.array([[right - 0.8 * reach, bottom - reach], [right + 2, bottom - reach]])
        corners = np.concatenate(
            [corners, [[right + 2, bottom + 2], [right - 0.8 * reach, bottom + 2]]]
        )
        placed = in_quad(flap[::-1, ::-1], cv2.perspectiveTransform(corners[None], to_picture)[0])
        turned = np.ascontiguousarray(flap[::-1, ::-1])
        return paint(out, turned, placed, child=body, shadow=0.3)

    return change


def _on_the_floor(pixels: _Pixels, child: Body) -> _Pixels:
    """A sheet that lies on the floor before the child's feet."""
    height, width = pixels.shape[:2]
    corners = np.array([[0.555, 0.762], [0.652, 0.757], [0.672, 0.800], [0.568, 0.806]])
    sheet = blank(210, 297, (226, 224, 219))
    out = bare_wall(pixels, "sheet_1", child)
    return paint(out, sheet, in_quad(sheet, corners * [width, height]), shadow=0.25)


def _on_a_stool(pixels: _Pixels, child: Body) -> _Pixels:
    """A wooden stool beside the child, a sheet on its seat."""
    height, width = pixels.shape[:2]
    out = bare_wall(pixels, "flat_3", child)
    for x, foot in ((0.722, 0.800), (0.905, 0.790), (0.752, 0.752), (0.875, 0.747)):
        leg = blank(20, 200, (120, 84, 52))
        leg[:, :6, :3] = (92, 62, 38)
        corners = [[x, 0.62], [x + 0.022, 0.62], [x + 0.02, foot], [x + 0.002, foot]]
        out = paint(out, leg, in_quad(leg, np.array(corners) * [width, height]), shadow=0.2)
    seat, rim = blank(340, 340, (164, 118, 74)), blank(340, 20, (124, 86, 54))
    grain = np.random.default_rng(8).normal(0, 6, (340, 1, 1))
    seat[..., :3] = np.clip(seat[..., :3] + grain, 0, 255).astype(np.uint8)
    top = np.array([[0.735, 0.588], [0.898, 0.584], [0.932, 0.630], [0.712, 0.636]])
    out = paint(out, seat, in_quad(seat, top * [width, height]), child=child)
    edge = np.array([[0.712, 0.636], [0.932, 0.630], [0.932, 0.648], [0.712, 0.654]])
    out = paint(out, rim, in_quad(rim, edge * [width, height]), shadow=0.0)
    sheet = blank(216, 279, _WHITE)
    lying = np.array([[0.768, 0.592], [0.864, 0.590], [0.890, 0.624], [0.776, 0.628]])
    return paint(out, sheet, in_quad(sheet, lying * [width, height]), shadow=0.25)


def _two_pages_on_one(base: str) -> Change:
    """The printed sheet at 68 %, as two pages on one sheet of paper are printed."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        # The page as it hangs there, upright and two texels to the millimetre.
        texel = np.array([[0.5, 0, -97.0], [0, 0.5, -130.0], [0, 0, 1]])
        page = cv2.warpPerspective(
            pixels,
            wall_plane(base) @ texel,
            (388, 520),
            flags=cv2.WARP_INVERSE_MAP + cv2.INTER_CUBIC,
        )
        small = cv2.resize(page, None, fx=0.68, fy=0.68, interpolation=cv2.INTER_AREA)
        paper = blank(594, 420, np.median(page[250:270, 100:290], axis=(0, 1)))
        paper[30 : 30 + small.shape[0], 20 : 20 + small.shape[1], :3] = small
        for row in range(20):
            end = 560 if row % 6 < 5 else 430
            at = 40 + 17 * row
            cv2.line(paper, (325, at), (end, at), (120, 120, 120, 255), 4)
        out = bare_wall(pixels, base, body)
        return paint(out, paper, on_wall(base, -105, -148.5, mm_per_texel=0.5), child=body)

    return change


def _and_another(base: str, aside_mm: float, above_mm: float) -> Change:
    """One more sheet on the wall, partly outside of the picture."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        sheet = blank(216, 279, _WHITE)
        return paint(pixels, sheet, on_wall(base, aside_mm, -above_mm), child=body)

    return change


def _held_before_the_camera(pixels: _Pixels, child: Body) -> _Pixels:
    """A sheet that whoever takes the picture holds near the camera, with thumb and fingers."""
    height, width = pixels.shape[:2]
    sheet = blank(216, 279, (231, 229, 225))
    shade = np.linspace(1.0, 0.9, 216)[None, :, None]
    sheet[..., :3] = (sheet[..., :3] * shade).astype(np.uint8)
    corners = np.array([[0.640, 0.605], [0.925, 0.592], [0.942, 0.872], [0.652, 0.882]])
    out = bare_wall(pixels, "sheet_2", child)
    out = paint(out, sheet, in_quad(sheet, corners * [width, height]), shadow=0.0, lit=False)
    hand = np.zeros((600, 400, 4), np.uint8)
    skin = (196, 146, 118, 255)
    cv2.ellipse(hand, (240, 520), (130, 150), 0, 0, 360, skin, cv2.FILLED, cv2.LINE_AA)
    cv2.line(hand, (200, 470), (120, 250), skin, 74, cv2.LINE_AA)
    cv2.ellipse(hand, (117, 236), (20, 28), -18, 0, 360, (222, 180, 160, 255), cv2.FILLED)
    shading = cv2.GaussianBlur(hand[..., 3].astype(np.float32), (0, 0), 22)[..., None] / 255
    hand[..., :3] = (hand[..., :3] * (0.62 + 0.38 * shading)).astype(np.uint8)
    place = np.array([[0.70, 0.79], [0.95, 0.79], [0.95, 1.02], [0.70, 1.02]]) * [width, height]
    return paint(out, hand, in_quad(hand, place), shadow=0.25, lit=False)


#: Papers, what they are said to be, and the pictures in which they hang.
_PLAIN: Final[
    tuple[tuple[str, tuple[float, float], Literal["letter", "a4"], tuple[int, ...]], ...]
] = (
    ("a3", (297, 420), "a4", (1, 4, 8)),
    ("a5", (148, 210), "a4", (3, 5, 7)),
    ("a6", (105, 148), "a4", (2, 6)),
    ("a5", (148, 210), "letter", (1, 6)),
    ("a3", (297, 420), "letter", (3, 7)),
    ("legal", (216, 356), "letter", (2,)),
    ("legal", (216, 356), "a4", (4, 7)),
    ("tabloid", (279, 432), "a4", (3,)),
    ("b5", (176, 250), "a4", (5, 8)),
)


PAPERS: Final[tuple[LookAlike, ...]] = (
    LookAlike("a5 as a4", "flat_2", plain_sheet("flat_2", 148, 210), "a4", score_set="first trial"),
    LookAlike("a3 as a4", "flat_5", plain_sheet("flat_5", 297, 420), "a4", score_set="first trial"),
    LookAlike(
        "half a letter as letter",
        "flat_3",
        plain_sheet("flat_3", 140, 216),
        "letter",
        score_set="first trial",
    ),
    LookAlike(
        "tabloid as letter",
        "flat_8",
        plain_sheet("flat_8", 279, 432),
        "letter",
        score_set="first trial",
    ),
    LookAlike(
        "a square card as letter",
        "flat_6",
        plain_sheet("flat_6", 210, 210),
        "letter",
        score_set="first trial",
    ),
    LookAlike(
        "a4 folded in half",
        "a4_1",
        _folded("a4_1"),
        request=said(ReferenceRequest("a4")),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "letter with a curled corner",
        "letter_1",
        _curled("letter_1"),
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "a4 on the floor",
        "sheet_1",
        _on_the_floor,
        request=said(ReferenceRequest("a4")),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "letter on a stool",
        "flat_3",
        _on_a_stool,
        request=said(ReferenceRequest("letter")),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "printed two pages to a sheet",
        "sheet_3",
        _two_pages_on_one("sheet_3"),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "a second letter cut by the border",
        "letter_2",
        _and_another("letter_2", 560, 215),
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "letter held before the camera",
        "sheet_2",
        _held_before_the_camera,
        request=said(ReferenceRequest("letter")),
        score_set="second trial",
        may_say="no number",
    ),
    *(
        LookAlike(
            f"{name} as {said} {number}", f"flat_{number}", plain_sheet(f"flat_{number}", *mm), said
        )
        for name, mm, said, numbers in _PLAIN
        for number in numbers
    ),
)
