"""Garments and bags that hide where the legs part.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, soft
from pose_fit.body.body import Body

__all__ = ["GARMENTS"]

_Pixels = NDArray[np.uint8]


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
)
