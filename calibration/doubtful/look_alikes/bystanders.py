"""Somebody else beside the child, whole or in part, or in its place.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alikes.drawing import (
    bare_wall,
    blank,
    cut_out,
    figure_of,
    in_box,
    moved_child,
    on_wall,
    over,
    paint,
    without_child,
)
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, as_it_is, said, soft
from pose_fit.body.body import Body
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.reference.request import ReferenceRequest

__all__ = ["BYSTANDERS"]

_Pixels = NDArray[np.uint8]


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
        feathered = cv2.GaussianBlur(round_mask, (0, 0), middle / 12)[..., None]
        left, top = x + round(aside * body.leg_px) - middle, y - round(above * body.leg_px) - middle
        out = pixels.copy()
        room = out[top : top + head.shape[0], left : left + head.shape[1]]
        room[:] = (feathered * head + (1 - feathered) * room).astype(np.uint8)
        return out

    return change


def _smaller_child(aside: float, size: float) -> Change:
    """The child once more at another size, cut out with some wall around, at its side."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.ankles_px
        head = float(body.point_px("nose")[1]) - 0.3 * leg
        left, right = round(x - 0.33 * leg), round(x + 0.33 * leg)
        top, bottom = max(round(head), 0), round(min(y + 0.15 * leg, pixels.shape[0]))
        other = cv2.resize(pixels[top:bottom, left:right], None, fx=size, fy=size)
        at = round(x + aside * leg - other.shape[1] / 2)
        low, high = max(at, 0), min(at + other.shape[1], pixels.shape[1])
        out = pixels.copy()
        out[bottom - other.shape[0] : bottom, low:high] = other[:, low - at : high - at]
        return out

    return change


def _mirror_image(aside: float, size: float) -> Change:
    """The child's own image in a mirror on the wall, turned and a little smaller."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.ankles_px
        head = float(body.point_px("nose")[1]) - 0.4 * leg
        part = pixels[
            max(round(head), 0) : round(y + 0.15 * leg), round(x - 0.4 * leg) : round(x + 0.4 * leg)
        ]
        seen = cv2.resize(part[:, ::-1], None, fx=size, fy=size)
        at, bottom = round(x + aside * leg - seen.shape[1] / 2), round(y - 0.1 * leg)
        low, high = max(at, 0), min(at + seen.shape[1], pixels.shape[1])
        out = pixels.copy()
        out[bottom - seen.shape[0] : bottom, low:high] = seen[:, low - at : high - at]
        return out

    return change


def _legs_of(other: str, aside: float) -> Change:
    """Somebody's legs from the waist down, cut out of another picture, beside the child."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        from pose_fit.body.mediapipe_pose import pose_model

        photo = base_of(other)[0]
        them = pose_model().find(photo)
        assert them is not None
        (x, y), leg = photo.working_px(them.hips_px), them.leg_px / photo.working_scale
        rows = slice(round(y - 0.15 * leg), round(y + 1.25 * leg))
        columns = slice(round(x - 0.42 * leg), round(x + 0.42 * leg))
        factor = 1.25 * body.leg_px / leg
        part = cv2.resize(photo.pixels[rows, columns], None, fx=factor, fy=factor)
        cut = cv2.resize(them.mask[rows, columns], None, fx=factor, fy=factor) > 0.5
        left = round(float(body.ankles_px[0]) + aside * body.leg_px - part.shape[1] / 2)
        bottom = round(float(body.ankles_px[1]) + 0.3 * body.leg_px)
        top = bottom - part.shape[0]
        out = pixels.copy()
        low, high = max(left, 0), min(left + part.shape[1], pixels.shape[1])
        end = min(bottom, pixels.shape[0])
        room = out[top:end, low:high]
        inside = cut[: end - top, low - left : high - left]
        room[inside] = part[: end - top, low - left : high - left][inside]
        return soft(pixels, out)

    return change


def _parent_behind(pixels: _Pixels, body: Body) -> _Pixels:
    """A parent close behind the child, cut at the neck by the picture's upper border."""
    parent, leg = figure_of("flat_8"), body.leg_px
    ankles = body.ankles_px - [0.02 * leg, 0.05 * leg]
    out = over(pixels, parent, parent.placed(ankles, 1.5 * leg), child=body, shadow=0.3)
    return np.ascontiguousarray(out[round(0.205 * len(out)) :])


def _carried(pixels: _Pixels, body: Body) -> _Pixels:
    """The child on somebody's arm, its feet beside that one's thighs."""
    leg, (x, y) = body.leg_px, body.ankles_px
    out = without_child(pixels, body, side="left", slope=-0.045)
    parent = figure_of("flat_6")
    stands = parent.placed([x + 0.12 * leg, y - 0.01 * leg], 1.52 * leg)
    # One arm hangs down; the other one carries.
    rows, columns = np.indices(parent.texture.shape[:2])
    shoulder = parent.body.point_px("left_shoulder")
    arm = (columns > shoulder[0] + 0.01 * parent.body.leg_px) & (rows > shoulder[1] - 20)
    arm &= rows < parent.body.hips_px[1] + 0.12 * parent.body.leg_px
    torso = parent.texture.copy()
    torso[..., 3] = np.where(arm, 0, torso[..., 3])
    out = paint(out, torso, stands, shadow=0.3, lit=False)
    child = figure_of("letter_1", pixels)
    place = np.array([x - 0.22 * leg, y - 0.78 * leg])
    carried = child.placed(place, leg, turn_deg=4)
    out = over(out, child, carried, shadow=0.25)
    joint = cv2.perspectiveTransform(shoulder.reshape(1, 1, 2), stands).reshape(2)
    hips = cv2.perspectiveTransform(body.hips_px.reshape(1, 1, 2), carried).reshape(2)
    upper = np.array([joint[0] - 2, joint[1] + 0.10 * leg])
    elbow = np.array([joint[0] + 0.16 * leg, hips[1] - 0.04 * leg])
    wrist = np.array([hips[0] + 0.02 * leg, hips[1] + 0.11 * leg])
    return _bent_arm(out, np.stack([upper, elbow, wrist]), 0.17 * leg)


def _bent_arm(pixels: _Pixels, joints_px: NDArray[np.float64], thick_px: float) -> _Pixels:
    """An arm in a grey sleeve from shoulder over elbow to wrist, with a hand."""
    arm = np.zeros((*pixels.shape[:2], 4), np.uint8)
    shoulder, elbow, wrist = (np.round(one).astype(int).tolist() for one in joints_px)
    way = (joints_px[2] - joints_px[1]) / np.hypot(*(joints_px[2] - joints_px[1]))
    aside = np.array([way[1], -way[0]])
    skin, sleeve = (186, 136, 112, 255), (68, 68, 64, 255)
    for number in range(4):
        base = joints_px[2] + 0.25 * thick_px * way + (0.34 - 0.22 * number) * thick_px * aside
        tip = base + (0.75 - 0.08 * abs(number - 1)) * thick_px * way + 0.1 * thick_px * aside
        ends = [np.round(one).astype(int).tolist() for one in (base, tip)]
        cv2.line(arm, ends[0], ends[1], skin, round(0.19 * thick_px), cv2.LINE_AA)
    palm = np.round(joints_px[2] + 0.2 * thick_px * way).astype(int).tolist()
    cv2.circle(arm, palm, round(0.42 * thick_px), skin, cv2.FILLED, cv2.LINE_AA)
    cv2.line(arm, shoulder, elbow, sleeve, round(1.1 * thick_px), cv2.LINE_AA)
    cv2.line(arm, elbow, wrist, sleeve, round(0.85 * thick_px), cv2.LINE_AA)
    round_light = cv2.GaussianBlur(arm[..., 3].astype(np.float32), (0, 0), 0.22 * thick_px)
    arm[..., :3] = (arm[..., :3] * (0.6 + 0.4 * round_light[..., None] / 255)).astype(np.uint8)
    return paint(pixels, arm, np.eye(3), shadow=0.35, lit=False)


def _half_hidden(pixels: _Pixels, body: Body) -> _Pixels:
    """A smaller sibling behind the child, half of it to be seen."""
    sibling, leg = figure_of("flat_4"), body.leg_px
    place = body.ankles_px + np.array([-0.34, -0.06]) * leg
    return over(pixels, sibling, sibling.placed(place, 0.86 * leg), child=body, shadow=0.3)


def _empty_room(base: str, pixels: _Pixels, body: Body, *, slope: float) -> _Pixels:
    """Nobody in the room; a sheet of A4 where the printed one hung."""
    out = bare_wall(pixels, base, body)
    out = without_child(out, body, side="left", slope=slope, more=0.14, whole=True)
    return paint(out, blank(210, 297, (228, 226, 221)), on_wall(base, -105, -148))


def _poster_alone(pixels: _Pixels, body: Body) -> _Pixels:
    """Nobody in the room, and a framed picture of a child on the wall."""
    out = _empty_room("flat_4", pixels, body, slope=-0.026)
    shown = figure_of("flat_8").texture[40:930, 110:660].copy()
    shown[..., 3] = 255
    for edge, rgb in ((34, (240, 238, 232, 255)), (12, (60, 44, 30, 255))):
        border = (edge,) * 4
        wider = cv2.copyMakeBorder(shown, *border, cv2.BORDER_CONSTANT, value=rgb)
        shown = np.asarray(wider, np.uint8)
    wide = 0.30 * pixels.shape[1]
    left, top = body.hips_px[0] - wide / 2, body.hips_px[1] - 1.15 * wide
    placed = in_box(shown, left, top, left + wide, top + wide * shown.shape[0] / shown.shape[1])
    return paint(out, shown, placed, shadow=0.4)


def _doll(pixels: _Pixels, body: Body) -> _Pixels:
    """Nobody in the room, and a large-headed doll that stands before the wall."""
    out = _empty_room("flat_3", pixels, body, slope=0.0)
    doll = figure_of("length_1")
    leg, (x, y) = 0.42 * body.leg_px, body.ankles_px
    placed = doll.placed([x, y - 0.02 * leg], leg)
    out = over(out, doll, placed, shadow=0.4)
    # Its head once more, half as large again, over the small one.
    rows, columns = np.indices(doll.texture.shape[:2])
    chin = float(doll.body.point_px("nose")[1]) + 0.22 * doll.body.leg_px
    head = doll.texture.copy()
    aside = np.abs(columns - doll.body.point_px("nose")[0])
    beyond = (
        (rows > chin)
        | (aside > 0.30 * doll.body.leg_px)
        | ((rows > chin - 0.08 * doll.body.leg_px) & (aside > 0.14 * doll.body.leg_px))
    )
    head[..., 3] = np.where(beyond, 0, head[..., 3])
    at = np.array([doll.body.point_px("nose")[0], chin])
    grown = np.array([[1.5, 0, -0.5 * at[0]], [0, 1.5, -0.5 * at[1]], [0, 0, 1]])
    return paint(out, head, placed @ grown, shadow=0.1, lit=False)


def _picture_of(size: float, up: float) -> Change:
    """A framed picture of the child hangs where the child stood."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        room, _ = cut_out(pixels)
        leg, (x, y) = body.leg_px, body.ankles_px
        top = max(int(body.point_px("nose")[1] - 0.45 * leg), 0)
        part = pixels[top : int(y + 0.2 * leg), int(x - 0.7 * leg) : int(x + 0.7 * leg)]
        seen = cv2.resize(part, None, fx=size, fy=size, interpolation=cv2.INTER_AREA)
        seen = cv2.copyMakeBorder(seen, 8, 8, 8, 8, cv2.BORDER_CONSTANT, value=(40, 30, 25))
        left, low = round(float(x) - seen.shape[1] / 2), round(float(y) - up * leg)
        room[low - seen.shape[0] : low, left : left + seen.shape[1]] = seen
        return room

    return change


def _another(
    other: str, aside: float, size: float, *, behind: bool = False, from_hips: bool = False
) -> Change:
    """Another child, cut out of another picture, so far beside this one, in legs."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        photo = base_of(other)[0]
        them = pose_model().find(photo)
        assert them is not None
        _, share = cut_out(photo.pixels)
        if from_hips:
            share[: round(float(them.hips_px[1]))] = 0
        factor = size * body.leg_px / them.leg_px
        place = body.ankles_px + np.array([aside * body.leg_px, 0.0]) - factor * them.ankles_px
        to = np.array([[factor, 0.0, place[0]], [0.0, factor, place[1]]])
        shape = pixels.shape[1::-1]
        child, cover = (cv2.warpAffine(one, to, shape) for one in (photo.pixels, share))
        cover = cover[..., None]
        if behind:
            cover = cover * (1 - cut_out(pixels)[1])
        return np.clip(child * cover + pixels * (1 - cover), 0, 255).astype(np.uint8)

    return change


BYSTANDERS: Final[tuple[LookAlike, ...]] = (
    LookAlike("hugged from the left", "sheet_1", _second_head(-0.36, 0.0)),
    LookAlike("hugged from the right, higher", "sheet_2", _second_head(0.32, 0.12)),
    LookAlike("a head over the shoulder", "letter_1", _second_head(0.28, -0.10, 0.9)),
    LookAlike("a large head behind", "a4_1", _second_head(-0.34, 0.15, 1.2)),
    LookAlike("a head beside, smaller", "sheet_3", _second_head(-0.36, 0.0, 0.8)),
    LookAlike("a sibling at the left", "flat_7", _smaller_child(-0.70, 0.7)),
    LookAlike("a sibling close by", "flat_3", _smaller_child(0.45, 0.6)),
    LookAlike("mirror image", "flat_6", _mirror_image(-0.85, 0.9), score_set="first trial"),
    LookAlike(
        "legs alone at the left", "flat_8", _legs_of("flat_7", -0.80), score_set="first trial"
    ),
    LookAlike(
        "legs alone at the right", "flat_1", _legs_of("flat_5", 0.85), score_set="first trial"
    ),
    *(
        LookAlike(f"a grown person at the child’s side {number}", f"legs_of_two_{number}", as_it_is)
        for number in (3, 4)
    ),
    LookAlike(
        "a parent close behind",
        "sheet_1",
        _parent_behind,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "carried on an arm",
        "letter_1",
        _carried,
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "a sibling half hidden",
        "a4_1",
        _half_hidden,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "a picture of a child alone",
        "flat_4",
        _poster_alone,
        request=said(ReferenceRequest("a4")),
        score_set="second trial",
        may_say="no number",
        shows_child=False,
    ),
    LookAlike(
        "a doll",
        "flat_3",
        _doll,
        request=said(ReferenceRequest("a4")),
        score_set="second trial",
        may_say="no number",
        shows_child=False,
    ),
    LookAlike("picture of a child", "flat_8", _picture_of(0.6, 0.3)),
    LookAlike("picture of a child, larger", "flat_5", _picture_of(0.8, 0.1)),
    LookAlike("doll", "flat_7", moved_child(size=0.5)),
    LookAlike("statue", "flat_3", moved_child(size=0.7)),
    LookAlike("giant", "flat_5", moved_child(size=1.25)),
    LookAlike("another child behind", "flat_5", _another("flat_3", 0.25, 1.05, behind=True)),
    LookAlike("another child half behind", "flat_8", _another("flat_6", -0.45, 1.1, behind=True)),
    LookAlike("a small child before", "flat_8", _another("flat_1", 0.15, 0.6)),
    LookAlike("a small child beside", "flat_6", _another("flat_1", -0.55, 0.55)),
    LookAlike("a doll beside", "flat_2", _another("flat_7", -0.5, 0.35)),
    LookAlike("legs behind", "flat_7", _another("flat_5", 0.3, 1.3, behind=True, from_hips=True)),
    LookAlike("legs before", "flat_5", _another("flat_7", 0.35, 1.2, from_hips=True)),
    LookAlike("legs beside", "flat_6", _another("flat_2", 0.7, 1.3, from_hips=True)),
)
