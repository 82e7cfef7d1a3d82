"""A child that does not stand on two straight legs on one floor.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.drawing import (
    Side,
    child_alpha,
    in_box,
    moved_child,
    paint,
    without_child,
)
from calibration.doubtful.look_alikes.look_alike import (
    Change,
    LookAlike,
    ScoreSet,
    as_it_is,
    beside_feet,
    box_beside,
    soft,
)
from pose_fit.body.body import Body, Landmark

__all__ = ["STANCES"]

_Pixels = NDArray[np.uint8]


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


def _knee_forward(side: str, short: float) -> Change:
    """One leg squeezed from hip to sole, as a foot set on a step or lifted a little looks."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        marks: tuple[Landmark, ...] = (f"{side}_knee", f"{side}_toe", f"{side}_ankle")  # type: ignore[assignment]
        knee, toe, ankle = body.points_px(marks)
        middle = float(body.ankles_px[0])
        # The whole foot, from between the legs to beyond its little toe.
        reach = ankle[0] - middle + 0.16 * body.leg_px * np.sign(ankle[0] - middle)
        left, right = (round(one) for one in sorted((middle, middle + reach)))
        top, bottom = (
            round(0.5 * (knee[1] + body.hips_px[1])),
            round(toe[1] + 0.04 * body.leg_px),
        )
        strip = pixels[top:bottom, left:right]
        squeezed = cv2.resize(strip, (right - left, round(short * (bottom - top))))
        out = pixels.copy()
        out[top:bottom, left:right] = pixels[bottom : bottom + 1, left:right]
        out[top : top + squeezed.shape[0], left:right] = squeezed
        return out

    return change


def _posed(
    left: tuple[float, float],
    right: tuple[float, float],
    *,
    wall: Side,
    slope: float = 0.0,
    down: float = 0.0,
    flat_feet: bool = True,
    hem: float = 0.03,
    crotch: float = 0.17,
) -> Change:
    """The child with its legs turned in the picture's plane, as a paper figure's are.

    Parameters
    ----------
    left, right
        Of each leg, how far the thigh turns outwards at the hip, and the shank inwards against it,
        degrees.
    wall
        On which side of the child bare wall and floor are taken from.
    slope
        How far the foot of the wall falls in the picture for each pixel to the right.
    down
        How far the hips are lowered, legs.
    flat_feet
        Whether the feet stay as they are while the shanks turn.
    hem
        How far below the hips the shirt ends, legs.
    crotch
        How far below the hips the trunk ends, legs.
    """

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = without_child(pixels, body, side=wall, slope=slope)
        rows, columns = np.indices(pixels.shape[:2]).astype(float)
        (hip_x, hip_y), leg = body.hips_px, body.leg_px
        middle = hip_x + (body.ankles_px[0] - hip_x) * (rows - hip_y) / leg
        lowered = np.array([[1, 0, 0], [0, 1, down * leg], [0, 0, 1.0]])
        alpha = child_alpha(body)
        hands = (np.abs(columns - middle) > 0.36 * leg) & (rows < hip_y + 0.4 * leg)
        for side, (thigh_deg, shank_deg) in (("left", left), ("right", right)):
            marks: tuple[Landmark, ...] = (f"{side}_hip", f"{side}_knee", f"{side}_ankle")  # type: ignore[assignment]
            hip, knee, ankle = body.points_px(marks)
            out_sign = float(np.sign(knee[0] - hip_x))
            own = ((columns - middle) * out_sign > -1) & ~hands
            thigh = lowered @ _turned(hip, -out_sign * thigh_deg)
            shank = thigh @ _turned(knee, out_sign * shank_deg)
            is_foot = rows > ankle[1] - 0.02 * leg
            moved = (shank @ [*ankle, 1.0])[:2] - ankle
            foot = np.array([[1, 0, moved[0]], [0, 1, moved[1]], [0, 0, 1.0]])
            for piece, placed in (
                (own & (rows > ankle[1] - 0.05 * leg), foot if flat_feet else shank),
                (own & (rows > knee[1] - 0.035 * leg) & ~(is_foot & flat_feet), shank),
                (own & (rows > hip_y + (hem - 0.01) * leg) & (rows < knee[1] + 0.05 * leg), thigh),
            ):
                texture = np.dstack([pixels, (255 * alpha * piece).astype(np.uint8)])
                out = paint(out, texture, placed, shadow=0.0, lit=False)
        above = (rows < hip_y + crotch * leg - 0.9 * np.abs(columns - middle)) | hands
        above |= rows < hip_y + hem * leg
        texture = np.dstack([pixels, (255 * alpha * above).astype(np.uint8)])
        return paint(out, texture, lowered, shadow=0.0, lit=False)

    return change


def _turned(about: NDArray[np.float64], angle_deg: float) -> NDArray[np.float64]:
    """(3, 3) turn about a place in the picture, clockwise as seen."""
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    turn = np.array([[c, -s], [s, c]])
    return np.block([[turn, (about - turn @ about)[:, None]], [np.zeros((1, 2)), np.ones((1, 1))]])


def _leaning(turn_deg: float, *, wall: Side, slope: float) -> Change:
    """The whole child turned about its feet."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = without_child(pixels, body, side=wall, slope=slope)
        texture = np.dstack([pixels, (255 * child_alpha(body)).astype(np.uint8)])
        ground = np.array([body.ankles_px[0], body.ankles_px[1] + 0.06 * body.leg_px])
        return paint(out, texture, _turned(ground, turn_deg), shadow=0.2, lit=False)

    return change


def _jumping(up: float, *, wall: Side, slope: float) -> Change:
    """The whole child so many legs above the floor, its shadow below."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.ankles_px
        out = without_child(pixels, body, side=wall, slope=slope).astype(float)
        dark = np.zeros(pixels.shape[:2], np.float32)
        middle = (round(x), round(y + 0.10 * leg))
        cv2.ellipse(dark, middle, (round(0.30 * leg), round(0.05 * leg)), 0, 0, 360, (1.0,), -1)
        out *= 1 - 0.45 * cv2.GaussianBlur(dark, (0, 0), 0.03 * leg)[..., None]
        texture = np.dstack([pixels, (255 * child_alpha(body)).astype(np.uint8)])
        placed = np.array([[1, 0, 0], [0, 1, -up * leg], [0, 0, 1.0]])
        return paint(out.astype(np.uint8), texture, placed, shadow=0.0, lit=False)

    return change


def _on_a_skateboard(pixels: _Pixels, body: Body) -> _Pixels:
    """The child on a skateboard that is seen from its side."""
    leg, x = body.leg_px, float(body.ankles_px[0])
    out = without_child(pixels, body, side="right")
    up, sole = 0.23 * leg, float(np.nonzero(body.mask.max(axis=1) > 0.5)[0].max())
    wide, tall = 620, 110
    board = np.zeros((tall, wide, 4), np.uint8)
    along = np.linspace(0, wide, 60)
    bend = 16 - 30 * np.clip(np.abs(along / wide - 0.5) - 0.36, 0, 1) / 0.14
    deck = np.concatenate(
        [np.stack([along, bend + 14], axis=1), np.stack([along, bend + 30], axis=1)[::-1]]
    )
    for at in (130, wide - 130):
        cv2.rectangle(board, (at - 26, 40), (at + 26, 62), (120, 122, 126, 255), cv2.FILLED)
        for wheel in (-34, 34):
            cv2.circle(board, (at + wheel, 78), 29, (222, 214, 190, 255), cv2.FILLED, cv2.LINE_AA)
            cv2.circle(board, (at + wheel, 78), 10, (120, 122, 126, 255), cv2.FILLED, cv2.LINE_AA)
    cv2.fillPoly(board, [np.round(deck).astype(np.int32)], (46, 44, 48, 255), cv2.LINE_AA)
    half = 0.75 * leg
    # The deck is at 22 of the board's 110 texels, its wheels end at 107.
    scale = up / 85
    top = sole - 0.04 * leg - up - 22 * scale
    placed = in_box(board, x - half, top, x + half, top + tall * scale)
    out = paint(out, board, placed, shadow=0.5)
    texture = np.dstack([pixels, (255 * child_alpha(body)).astype(np.uint8)])
    lifted = np.array([[1, 0, 0], [0, 1, -up], [0, 0, 1.0]])
    return paint(out, texture, lifted, shadow=0.0, lit=False)


def _cut_at_the_side(pixels: _Pixels, body: Body) -> _Pixels:
    """The picture without its right part: one leg is not in it."""
    end = body.hips_px[0] + 0.14 * body.leg_px
    return np.ascontiguousarray(pixels[:, : round(end)])


def _grass(pixels: _Pixels, body: Body) -> _Pixels:
    """Tall grass before the child's feet and shins."""
    rng = np.random.default_rng(21)
    width = pixels.shape[1]
    leg, ground = body.leg_px, float(body.ankles_px[1])
    out = pixels.copy()
    for near in np.sort(rng.uniform(0.05, 2.6, 11000)):
        x, base = rng.uniform(0, width), ground + near * 0.75 * leg
        tall = leg * rng.uniform(0.22, 0.40) * (0.8 + 0.4 * near)
        sway = rng.normal(0, 0.10) * leg
        part = np.linspace(0, 1, 8)
        blade = np.stack([x + sway * part**2, base - tall * part], axis=1)
        light = rng.uniform(0.55, 1.0) * (0.75 + 0.2 * min(near, 1.2))
        rgb = tuple(int(one) for one in np.array([88, 132, 52]) * light)
        wide = 1 if near < 0.5 else 2
        cv2.polylines(out, [np.round(blade).astype(np.int32)], False, rgb, wide, cv2.LINE_AA)
    return soft(pixels, out)


def _on_board(up: float, wide: float, rgb: tuple[int, int, int]) -> Change:
    """The child lifted onto a board, box or toy that is drawn below its feet."""
    lifted = moved_child(up=up)

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = lifted(pixels, body)
        x, y = beside_feet(body, 0.0, up)
        leg = body.leg_px
        toes = float(body.points_px(("left_toe", "right_toe"))[:, 1].max()) - float(
            body.ankles_px[1]
        )
        low, high = round(y + toes + 0.01 * leg), round(y + toes + (0.01 + up) * leg)
        out[low:high, round(x - wide * leg) : round(x + wide * leg)] = rgb
        return soft(pixels, out)

    return change


def _before_feet(top: float, bottom: float, rgb: tuple[int, int, int]) -> Change:
    """Something that stands before feet or knees."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        corners = np.round(box_beside(body, (-0.5, 0.5, top, bottom))).astype(int)
        out = pixels.copy()
        cv2.rectangle(out, corners[0].tolist(), corners[2].tolist(), rgb, -1)
        return soft(pixels, out)

    return change


#: Rendered stances: their name in `pictures.PICTURES`, what they show, their numbers, when scored.
_RENDERED: Final[tuple[tuple[str, str, tuple[int, ...], ScoreSet], ...]] = (
    ("line", "walks on a line", (3, 4, 5), "rules"),
    ("raised", "a foot off the floor", (3, 4, 5), "rules"),
    ("ahead", "a foot ahead, off the floor", (3, 4), "rules"),
    ("crossed", "legs crossed", (3, 4, 5), "rules"),
    ("soft", "one knee soft", (3, 4, 5), "rules"),
    ("lifted", "a foot off the floor, fresh", (4, 5), "first trial"),
    ("behind", "a foot behind, off the floor", (1, 2), "first trial"),
    ("step", "a foot on a step, fresh", (4, 5), "first trial"),
    ("box", "both feet on a box", (1, 2), "first trial"),
)

STANCES: Final[tuple[LookAlike, ...]] = (
    LookAlike("left foot in the air", "sheet_1", _foot_in_air("left", 0.68)),
    LookAlike("right foot in the air", "sheet_2", _foot_in_air("right", 0.70)),
    LookAlike("left foot in the air, less", "letter_2", _foot_in_air("left", 0.76)),
    LookAlike("right foot in the air, less", "a4_1", _foot_in_air("right", 0.76)),
    LookAlike("left foot far in the air", "sheet_3", _foot_in_air("left", 0.60)),
    LookAlike("left foot on a step", "flat_4", _knee_forward("left", 0.88)),
    LookAlike("right foot on a step", "flat_6", _knee_forward("right", 0.90)),
    LookAlike("left foot a little up", "flat_8", _knee_forward("left", 0.93)),
    *(
        LookAlike(f"{what} {number}", f"{name}_{number}", as_it_is, score_set=score_set)
        for name, what, numbers, score_set in _RENDERED
        for number in numbers
    ),
    LookAlike(
        "sole against the other knee",
        "letter_2",
        _posed((0, 0), (48, 118), wall="left", slope=-0.047, flat_feet=False),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "a leg swung out to the side",
        "length_1",
        _posed((34, 0), (0, 0), wall="right", flat_feet=False, hem=0.13, crotch=0.24),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "feet very far apart",
        "letter_1",
        _posed((24, 0), (24, 0), wall="left", slope=-0.045, down=0.08),
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "leaning to one side",
        "flat_5",
        _leaning(-11, wall="left", slope=0.0),
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "in the middle of a jump",
        "flat_4",
        _jumping(0.34, wall="right", slope=0.0),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "both feet on a skateboard",
        "sheet_3",
        _on_a_skateboard,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "a leg cut by the side of the picture",
        "flat_8",
        _cut_at_the_side,
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "tall grass before the feet",
        "sheet_1",
        _grass,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike("leans to one side", "flat_2", moved_child(turn_deg=12)),
    LookAlike("leans to the other side", "flat_6", moved_child(turn_deg=-16)),
    LookAlike("leans a little", "flat_8", moved_child(turn_deg=8)),
    LookAlike("upside down", "flat_4", moved_child(turn_deg=180, up=-1.6)),
    LookAlike("on a board", "flat_5", _on_board(0.10, 0.6, (120, 40, 40))),
    LookAlike("on a small box", "flat_8", _on_board(0.18, 0.45, (150, 120, 80))),
    LookAlike("on a stool", "flat_3", _on_board(0.40, 0.45, (90, 60, 40))),
    LookAlike("in the air", "flat_7", moved_child(up=0.25)),
    LookAlike("feet behind a crate", "flat_2", _before_feet(0.15, -0.2, (140, 100, 60))),
    LookAlike("shins behind a bench", "flat_5", _before_feet(0.45, 0.2, (110, 80, 50))),
    LookAlike("knees behind a bench", "flat_8", _before_feet(0.65, 0.35, (60, 80, 110))),
)
