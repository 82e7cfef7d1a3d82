"""Legs under a blanket, a long skirt or a table: where shanks should part, one thing is seen.

A crate or a bench before the legs cuts the person's outline in two instead, and hides joints that the
pose model then guesses.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEFT_LEG, RIGHT_LEG, Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around
from pose_fit.refusal import Notice, Refusal

__all__ = ["check_legs_seen", "feet_seen_warnings", "parting_part"]

#: From knee to ankle, the rows that are looked at, and how many.
_ROWS: Final = np.linspace(0.15, 0.9, 24)
#: From one shank to the other, where something must part them.
_ACROSS: Final = np.linspace(0.1, 0.9, 25)
#: In the gap the mask sees no person; a crease or shadow differs by this from what is
#: usual in its row, in units of CIELAB.
_GAP: Final = 0.5
_DIFFERS: Final = 6.0
#: With fewer such rows than this share the shanks are not two.
LEAST_PARTING: Final = 0.25
#: From a sixth of the thigh to the ankle, in so many rows and this far to each side, in legs, the
#: mask shows the leg. In none of 214 rendered children is a row without it.
_LEG_ROWS: Final = np.linspace(1 / 12, 1.0, 44)
_LEG_ASIDE: Final = 0.04
MOST_WITHOUT: Final = 1
#: Around heels, toes and ankles, this far in legs, the mask is at least this sure in 99 of a hundred.
_FOOT_AROUND: Final = 0.03
LEAST_FOOT: Final = 0.74
#: From the lowest mark of a foot so far up, in legs, the mask ends at most this far outside heel, toes
#: and ankle: 0.15 in 150 rendered children who could be measured. Hems on the floor lie farther out.
_FOOT_ROWS: Final = np.linspace(0.0, 0.1, 11)
MOST_OUTSIDE_FOOT: Final = 0.17


def check_legs_seen(photo: Photo, body: Body) -> Refusal | None:
    """A refusal where something hides both shanks, else None."""
    if _rows_without(photo, body) > MOST_WITHOUT:
        return Refusal.because(
            "legs_hidden",
            "Something stands before the legs and hides a part of them.",
            "Take the picture with nothing before the legs, from the hips to the floor.",
        )
    if parting_part(photo, body) >= LEAST_PARTING:
        return None
    return Refusal.because(
        "legs_hidden",
        "Below the knees the legs cannot be told apart: a blanket, a long skirt or something"
        " in front hides them.",
        "Take the picture in close-fitting legwear, feet a hand apart, nothing before the legs.",
    )


def feet_seen_warnings(photo: Photo, body: Body) -> tuple[Notice, ...]:
    """What is told where a foot is hidden, by something before it, in shadows or under a hem."""
    reach_px = max(round(_FOOT_AROUND * body.leg_px / photo.working_scale), 1)
    height, width = body.mask.shape
    for x, y in np.round(photo.working_px(body.points_px(_FEET))).astype(int):
        rows = slice(max(y - reach_px, 0), min(y + reach_px, height - 1) + 1)
        columns = slice(max(x - reach_px, 0), min(x + reach_px, width - 1) + 1)
        if body.mask[rows, columns].max(initial=0.0) < LEAST_FOOT:
            return (Notice("legs_hidden", "A foot is not seen well: is something before it?"),)
    if (
        min(_outside_foot(photo, body, foot) for foot in (_LEFT_FOOT, _RIGHT_FOOT))
        > MOST_OUTSIDE_FOOT
    ):
        return (
            Notice(
                "legs_hidden",
                "The feet are not seen: wide legwear hides them down to the floor.",
            ),
        )
    return ()


_LEFT_FOOT: Final[tuple[Landmark, ...]] = ("left_ankle", "left_heel", "left_toe")
_RIGHT_FOOT: Final[tuple[Landmark, ...]] = ("right_ankle", "right_heel", "right_toe")
_FEET: Final = (*_LEFT_FOOT, *_RIGHT_FOOT)


def _outside_foot(photo: Photo, body: Body, foot: tuple[Landmark, ...]) -> float:
    """How far outside a foot's marks the person ends near the floor, in legs, median of the rows."""
    leg_px = body.leg_px / photo.working_scale
    marks = photo.working_px(body.points_px(foot))
    side = 1 if marks[:, 0].mean() > photo.working_px(body.ankles_px)[0] else -1
    # Seen from the foot outwards, the person ends where the mask first does.
    inner, outer = sorted(marks[:, 0], key=lambda x: side * x)[:: len(marks) - 1]
    height, width = body.mask.shape
    ends = []
    for up in _FOOT_ROWS:
        row = body.mask[int(np.clip(marks[:, 1].max() - up * leg_px, 0, height - 1))]
        places = np.arange(int(np.clip(inner, 0, width - 1)), width if side > 0 else -1, side)
        is_person = row[places] >= _GAP
        # Beside a narrow ankle the mask may start only here, or not at all.
        start = int(np.argmax(is_person))
        if is_person.any() and side * (places[start] - outer) <= 2:
            away = ~is_person[start:]
            end = start + int(np.argmax(away)) if away.any() else len(places)
            ends.append(side * (places[end - 1] - outer) / leg_px)
    return float(np.median(ends)) if ends else 0.0


def _rows_without(photo: Photo, body: Body) -> int:
    """Most rows on end in which the mask shows no leg where one leg runs."""
    aside_px = _LEG_ASIDE * body.leg_px / photo.working_scale
    height, width = body.mask.shape
    most = 0
    for side in (LEFT_LEG, RIGHT_LEG):
        hip, knee, ankle = photo.working_px(body.points_px(side))
        parts = _LEG_ROWS[:, None] * 2
        places = np.where(
            parts < 1, hip + (knee - hip) * parts, knee + (ankle - knee) * (parts - 1)
        )
        count = 0
        for x, y in places:
            row = body.mask[
                int(np.clip(y, 0, height - 1)),
                max(int(x - aside_px), 0) : min(int(x + aside_px), width - 1) + 1,
            ]
            count = count + 1 if row.max(initial=0.0) < _GAP else 0
            most = max(most, count)
    return most


def parting_part(photo: Photo, body: Body) -> float:
    """Share of the rows between knees and ankles in which something parts the two shanks."""
    knees = photo.working_px(body.points_px(("left_knee", "right_knee")))
    ankles = photo.working_px(body.points_px(("left_ankle", "right_ankle")))
    along = knees[:, None] + (ankles - knees)[:, None] * _ROWS[None, :, None]
    across = along[0][:, None] + (along[1] - along[0])[:, None] * _ACROSS[None, :, None]
    spots = across.astype(np.float32)
    # Three pixels more on each side serve the smoothing and the interpolation.
    rows, columns = window_around(photo.pixels.shape, spots.reshape(-1, 2), margin_px=3.0)
    spots -= np.array([columns.start, rows.start], np.float32)
    soft = np.asarray(cv2.GaussianBlur(photo.pixels[rows, columns], (3, 3), 0.8), np.uint8)
    colours = cv2.cvtColor(_sampled(soft, spots) / 255, cv2.COLOR_RGB2LAB)
    off = np.linalg.norm(colours - np.median(colours, axis=1, keepdims=True), axis=2)
    person = _sampled(body.mask[rows, columns], spots)
    parts = (person.min(axis=1) < _GAP) | (off.max(axis=1) > _DIFFERS)
    return float(parts.mean())


def _sampled(
    image: NDArray[np.uint8] | NDArray[np.float32], spots: NDArray[np.float32]
) -> NDArray[np.float32]:
    sampled = cv2.remap(
        image, spots[..., 0], spots[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(sampled, np.float32)
