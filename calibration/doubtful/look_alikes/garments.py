"""Garments and bags that hide where the legs part.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.doubtful.look_alikes.drawing import child_alpha, in_quad, paint
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, soft
from pose_fit.body.body import Body, Landmark

__all__ = ["GARMENTS"]

_Pixels = NDArray[np.uint8]
#: Where the hands hold the blanket, legs beside and below the middle of the hips.
_HANDS: Final = (0.53, -0.03)


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


def _printed_dress(kind: str, *, length: float, seed: int) -> Change:
    """A dress from the waist to this part of the leg: stripes, dots, pleats or flowers."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        rng = np.random.default_rng(seed)
        leg, (x, y) = body.leg_px, body.hips_px
        top, bottom = y - 0.10 * leg, y + length * leg
        half = np.array([0.20, 0.20, 0.34, 0.34]) * leg * np.array([-1, 1, 1, -1])
        shape = np.stack([x + half, [top, top, bottom, bottom]], axis=1)
        inside = np.zeros(pixels.shape[:2], np.uint8)
        cv2.fillConvexPoly(inside, np.round(shape).astype(np.int32), (1,))
        rows, columns = np.indices(pixels.shape[:2]).astype(float)
        spread = (columns - x) / (0.20 + 0.14 * np.clip((rows - top) / (bottom - top), 0, 1)) / leg
        cloth = np.empty(pixels.shape, float)
        cloth[:] = rng.integers(60, 200, 3)
        other = rng.integers(40, 230, 3).astype(float)
        match kind:
            case "stripes":
                cloth[np.sin(24 * spread + 1) > 0.1] = other
            case "pleats":
                cloth *= (0.75 + 0.25 * np.sin(30 * spread + 2))[..., None]
            case "dots":
                grid = np.hypot(
                    (columns - x) % (0.09 * leg) - 0.045 * leg,
                    (rows - y) % (0.09 * leg) - 0.045 * leg,
                )
                cloth[grid < 0.026 * leg] = other
            case "flowers":
                for _ in range(140):
                    at = (
                        round(x + rng.uniform(-0.34, 0.34) * leg),
                        round(rng.uniform(top, bottom)),
                    )
                    cv2.circle(
                        cloth,
                        at,
                        round(rng.uniform(0.012, 0.04) * leg),
                        rng.integers(20, 250, 3).tolist(),
                        cv2.FILLED,
                    )
            case _:
                raise ValueError(f"unknown print {kind!r}")
        return soft(
            pixels, np.where(inside[..., None] > 0, np.clip(cloth, 0, 255), pixels).astype(np.uint8)
        )

    return change


def _long_shirt(length: float, rgb: tuple[int, int, int]) -> Change:
    """A plain wide shirt from the waist to this part of the leg, with a curved hem."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        along = np.linspace(-1, 1, 25)
        hem = np.stack([x + 0.25 * leg * along, y + (length - 0.05 * along**2) * leg], axis=1)
        top = np.array([[x + 0.19 * leg, y - 0.15 * leg], [x - 0.19 * leg, y - 0.15 * leg]])
        out = pixels.copy()
        cv2.fillPoly(out, [np.round(np.concatenate([hem, top])).astype(np.int32)], rgb, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _apron(length: float, rgb: tuple[int, int, int]) -> Change:
    """A straight apron from the waist to this part of the leg, tied behind."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        left, right = round(x - 0.17 * leg), round(x + 0.17 * leg)
        out = pixels.copy()
        out[round(y - 0.12 * leg) : round(y + length * leg), left:right] = rgb
        return soft(pixels, out)

    return change


def _towel(length: float) -> Change:
    """A towel wound round the hips, one end lower than the other."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        shape = [[-0.21, -0.14], [0.21, -0.12], [0.25, length - 0.07], [-0.24, length]]
        out = pixels.copy()
        corners = np.round(np.array(shape) * leg + (x, y)).astype(np.int32)
        cv2.fillConvexPoly(out, corners, (214, 205, 188), cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _bag(rgb: tuple[int, int, int]) -> Change:
    """A bag held before the thighs."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        out = pixels.copy()
        low, high = (round(y + part * leg) for part in (0.10, 0.52))
        out[low:high, round(x - 0.22 * leg) : round(x + 0.22 * leg)] = rgb
        return soft(pixels, out)

    return change


def _folds(width: int, height: int, rgb: ArrayLike, *, number: int, seed: int) -> _Pixels:
    """An opaque texture of cloth that hangs in so many uneven folds."""
    rng = np.random.default_rng(seed)
    across = np.linspace(0, 2 * np.pi * number, width)[None, :]
    bend = np.linspace(0.4, 1.2, height)[:, None]
    wave = np.sin(across + rng.uniform(0, 6) + 0.5 * bend) + 0.5 * np.sin(0.61 * across + 2 * bend)
    light = 0.90 + 0.09 * wave * np.linspace(0.3, 1.0, height)[:, None]
    cloth = np.asarray(rgb, float) * light[..., None] + rng.normal(0, 2.0, (height, width, 1))
    opaque = np.full((height, width, 1), 255)
    return np.asarray(np.concatenate([np.clip(cloth, 0, 255), opaque], axis=2), np.uint8)


def _legs_rgb(pixels: _Pixels, body: Body) -> NDArray[np.float64]:
    """(3,) the colour of what the legs wear, halfway down the thighs."""
    marks: tuple[Landmark, ...] = ("left_hip", "left_knee")
    x, y = np.round(body.points_px(marks).mean(axis=0)).astype(int)
    return np.asarray(np.median(pixels[y - 8 : y + 9, x - 6 : x + 7], axis=(0, 1)), float)


def _coat(pixels: _Pixels, body: Body) -> _Pixels:
    """A coat to the shins: sleeves, collar, buttons, pockets, folds."""
    leg, (x, y) = body.leg_px, body.hips_px
    shoulders = float(body.point_px("left_shoulder")[1])
    rows, columns = np.indices(pixels.shape[:2]).astype(float)
    grey = pixels.mean(axis=2)
    # The jersey is grey where skin is not.
    coloured = np.ptp(cv2.GaussianBlur(pixels, (0, 0), 2), axis=2) > 24
    worn = (rows > shoulders - 0.14 * leg) & (rows < y + 0.05 * leg) & ~coloured
    worn &= ~((np.abs(columns - x) < 0.08 * leg) & (rows < shoulders - 0.08 * leg))
    front = (child_alpha(body) * cv2.GaussianBlur(worn.astype(float), (0, 0), 1.0))[..., None]
    sleeves = np.array([92, 98, 70]) * np.clip(grey / 62.0, 0.5, 1.35)[..., None]
    out = (front * sleeves + (1 - front) * pixels).astype(np.uint8)
    skirt = _folds(300, 560, (98, 104, 74), number=3, seed=31)
    cv2.line(skirt, (150, 0), (156, 560), (52, 56, 38, 255), 5)
    for at in range(40, 420, 95):
        cv2.circle(skirt, (172, at), 9, (48, 38, 28, 255), cv2.FILLED, cv2.LINE_AA)
    for side in (46, 204):
        cv2.rectangle(skirt, (side, 175), (side + 62, 192), (76, 80, 56, 255), cv2.FILLED)
    top, bottom = y - 0.30 * leg, y + 0.82 * leg
    corners = [[x - 0.22 * leg, top], [x + 0.22 * leg, top], [x + 0.46 * leg, bottom]]
    placed = in_quad(skirt, [*corners, [x - 0.46 * leg, bottom + 0.02 * leg]])
    out = paint(out, skirt, placed, shadow=0.3)
    neck = shoulders - 0.04 * leg
    for sign in (-1, 1):
        lapel = [(0.02, -0.05), (0.13, -0.02), (0.09, 0.18), (0.01, 0.40)]
        shape = np.array([[x + sign * part * leg, neck + fall * leg] for part, fall in lapel])
        cv2.fillPoly(out, [np.round(shape).astype(np.int32)], (78, 84, 58), cv2.LINE_AA)
    return soft(pixels, out)


def _wide_trousers(pixels: _Pixels, body: Body) -> _Pixels:
    """Trousers that get wider to the floor and hide the shoes."""
    leg, (x, y) = body.leg_px, body.hips_px
    sole = float(np.nonzero(body.mask.max(axis=1) > 0.5)[0].max()) - 0.015 * leg
    rgb = np.maximum(_legs_rgb(pixels, body), 34) * 1.12
    out = pixels
    for sign, seed in ((-1, 5), (1, 6)):
        cloth = _folds(160, 500, rgb, number=3, seed=seed)
        # The inner seam, in the shade of the other leg.
        cloth[150:, :7, :3] //= 3
        waist, hem = y - 0.10 * leg, sole + 0.01 * sign * leg
        inner, outer = x - 0.01 * sign * leg, (x + 0.23 * sign * leg, x + 0.38 * sign * leg)
        corners = [[inner, waist], [outer[0], waist], [outer[1], hem], [inner, hem]]
        out = paint(out, cloth, in_quad(cloth, corners), shadow=0.35)
    rows, columns = np.indices(pixels.shape[:2]).astype(float)
    hands = (np.abs(columns - x) > 0.30 * leg) & (rows < y + 0.3 * leg)
    front = (child_alpha(body) * ((rows < y - 0.02 * leg) | hands))[..., None]
    return np.asarray(front * pixels + (1 - front) * out, np.uint8)


def _blanket(pixels: _Pixels, body: Body) -> _Pixels:
    """A tartan blanket that the child holds before its legs with both hands."""
    leg, (x, y) = body.leg_px, body.hips_px
    cloth = _folds(420, 480, (150, 46, 50), number=5, seed=44)
    tint = cloth[..., :3].astype(float)
    for period, offset, wide, rgb, part in (
        (120, 20, 44, (38, 52, 92), 0.55),
        (120, 92, 8, (232, 222, 190), 0.7),
        (60, 50, 4, (24, 28, 40), 0.6),
    ):
        for axis in (0, 1):
            along = np.arange(tint.shape[axis])
            band = ((along - offset) % period < wide).reshape(
                (-1, 1, 1) if axis == 0 else (1, -1, 1)
            )
            tint = np.where(band, (1 - part) * tint + part * np.array(rgb), tint)
    columns = np.linspace(-1, 1, 420)
    sag = (26 * (1 - columns**2)).astype(int)
    rows = np.arange(480)[:, None]
    cloth[..., :3] = np.clip(tint, 0, 255).astype(np.uint8)
    cloth[..., 3] = np.where((rows < sag[None]) | (rows > 454 + 10 * np.sin(9 * columns)), 0, 255)
    top, bottom, half = y + _HANDS[1] * leg, y + 1.02 * leg, _HANDS[0] * leg
    corners = [
        [x - half, top],
        [x + half, top],
        [x + 0.96 * half, bottom],
        [x - 0.96 * half, bottom],
    ]
    out = paint(pixels, cloth, in_quad(cloth, corners), shadow=0.35)
    rows, columns = np.indices(pixels.shape[:2]).astype(float)
    hands = np.abs(columns - x) > half - 0.075 * leg
    front = (child_alpha(body) * (hands & (rows < top + 0.085 * leg)))[..., None]
    return np.asarray(front * pixels + (1 - front) * out, np.uint8)


def _low_fork(part: float) -> Change:
    """Trousers whose legs part only so many legs below the hips."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        out = pixels.astype(float)
        rgb = _legs_rgb(pixels, body)
        for row in range(round(y), round(y + (part + 0.07) * leg)):
            inside = body.mask[row] > 0.5
            left, right = round(x), round(x)
            while left > 0 and not inside[left]:
                left -= 1
            while right < len(inside) - 1 and not inside[right]:
                right += 1
            if right - left < 2 or right - left > 0.5 * leg:
                continue
            left, right = left - 4, right + 5
            along = np.linspace(-1, 1, right - left)
            arch = y + (part + 0.07 * along**2) * leg
            ends = out[row, [left - 3, right + 3]].mean(axis=0)
            # A fold runs down from either side to the fork.
            deep = 0.80 + 0.16 * np.cos(np.pi * along) * np.sin(
                9 * (row - y) / leg + 2 * np.abs(along)
            )
            cloth = (0.5 * ends + 0.5 * rgb)[None] * deep[:, None]
            out[row, left:right] = np.where((row < arch)[:, None], cloth, out[row, left:right])
        drawn = np.clip(out, 0, 255).astype(np.uint8)
        noise = np.random.default_rng(9).normal(0, 2.5, drawn.shape)
        changed = (drawn != pixels).any(axis=2, keepdims=True)
        drawn = np.where(changed, np.clip(drawn + noise, 0, 255), drawn).astype(np.uint8)
        return soft(pixels, drawn)

    return change


def _cape(pixels: _Pixels, body: Body) -> _Pixels:
    """A cape behind the child, of the colour of its trousers."""
    leg, (x, y) = body.leg_px, body.hips_px
    shoulders = float(body.point_px("left_shoulder")[1])
    cloth = _folds(400, 600, 1.08 * _legs_rgb(pixels, body), number=5, seed=12)
    hem = 570 + 16 * np.sin(np.linspace(0, 15, 400))
    cloth[..., 3] = np.where(np.arange(600)[:, None] > hem[None], 0, 255)
    top, bottom = shoulders - 0.07 * leg, y + 0.84 * leg
    corners = [[x - 0.20 * leg, top], [x + 0.20 * leg, top], [x + 0.52 * leg, bottom]]
    placed = in_quad(cloth, [*corners, [x - 0.50 * leg, bottom + 0.02 * leg]])
    out = paint(pixels, cloth, placed, child=body, shadow=0.4)
    tie = np.array([[x - 0.13 * leg, top], [x, top + 0.07 * leg], [x + 0.13 * leg, top]])
    rgb = tuple(int(one) for one in _legs_rgb(pixels, body))
    cv2.polylines(out, [np.round(tie).astype(np.int32)], False, rgb, 5, cv2.LINE_AA)
    return out


GARMENTS: Final[tuple[LookAlike, ...]] = (
    LookAlike("dress, fine print", "sheet_1", _dress(1, length=0.55, fine=0.006)),
    LookAlike("dress, coarse print", "sheet_2", _dress(2, length=0.50, fine=0.014)),
    LookAlike("long dress, fine print", "letter_1", _dress(3, length=0.70, fine=0.005)),
    LookAlike("dress, middling print", "a4_1", _dress(4, length=0.55, fine=0.009)),
    LookAlike("short dress, fine print", "sheet_3", _dress(5, length=0.42, fine=0.006)),
    LookAlike("long white shirt", "flat_2", _long_shirt(0.45, (235, 233, 228))),
    LookAlike("long dark shirt", "flat_5", _long_shirt(0.38, (40, 44, 60))),
    LookAlike("shirt to the knees", "flat_7", _long_shirt(0.52, (150, 60, 70))),
    LookAlike("dress with stripes", "flat_1", _printed_dress("stripes", length=0.55, seed=11)),
    LookAlike("dress with pleats", "flat_3", _printed_dress("pleats", length=0.60, seed=12)),
    LookAlike("dress with dots", "flat_4", _printed_dress("dots", length=0.50, seed=13)),
    LookAlike("dress with flowers", "flat_6", _printed_dress("flowers", length=0.65, seed=14)),
    LookAlike(
        "short dress with stripes", "flat_7", _printed_dress("stripes", length=0.45, seed=15)
    ),
    LookAlike("long dress with dots", "flat_8", _printed_dress("dots", length=0.70, seed=16)),
    LookAlike("apron", "flat_3", _apron(0.45, (180, 60, 50)), score_set="first trial"),
    LookAlike("towel round the hips", "flat_5", _towel(0.40), score_set="first trial"),
    LookAlike("bag before the thighs", "flat_7", _bag((60, 70, 90)), score_set="first trial"),
    LookAlike(
        "coat to the shins",
        "flat_6",
        _coat,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "trousers that hide the shoes",
        "door_2",
        _wide_trousers,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "blanket held before the legs",
        "wheel_1",
        _blanket,
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "trousers with a low fork",
        "a4_1",
        _low_fork(0.42),
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "cape behind the legs",
        "length_1",
        _cape,
        score_set="second trial",
        may_say="number with a word",
    ),
)
