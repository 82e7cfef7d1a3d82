"""Put joints right by clicking, or typing, where they are."""

from typing import Any, Final

import numpy as np
import streamlit as st
from PIL import Image, ImageDraw

from pose_fit.body.body import LEG_LANDMARKS, Body, Landmark
from pose_fit.pages.session import FIELD, Shot, remembered

__all__ = ["Moves", "correct_joints", "moves_of"]

Moves = dict[Landmark, tuple[float, float]]

_WORDS: Final[dict[Landmark, str]] = {
    landmark: f"{landmark.split('_')[1]}, the child’s {landmark.split('_')[0]}"
    for landmark in LEG_LANDMARKS
}
_SHOWN_PX: Final = 900


def moves_of(shot: Shot) -> Moves:
    """The joints moved in one picture; upright pixels."""
    empty: Moves = {}
    return remembered(f"moves.{shot.key}", lambda: empty)


def correct_joints(shot: Shot, body: Body) -> None:
    """Choose a joint, then click or type where it is; the estimate follows."""
    moves = moves_of(shot)
    joint: Landmark = st.radio(
        "Joint to move",
        LEG_LANDMARKS,
        format_func=_WORDS.__getitem__,
        key=f"{FIELD}joint.{shot.key}",
        horizontal=True,
    )
    st.caption("Click the middle of the joint, not the edge of the leg.")
    _take_click(shot, body, joint, moves)
    _type_place(shot, body, joint, moves)
    if st.button(
        "Back to where the program saw the joints", key=f"unmove.{shot.key}", disabled=not moves
    ):
        moves.clear()
        _renew(shot)


def _place(body: Body, joint: Landmark, moves: Moves) -> tuple[float, float]:
    if joint in moves:
        return moves[joint]
    x_px, y_px = body.point_px(joint)
    return float(x_px), float(y_px)


def _take_click(shot: Shot, body: Body, joint: Landmark, moves: Moves) -> None:
    from streamlit_image_coordinates import streamlit_image_coordinates

    left, top, right, bottom = _legs_box(shot, body)
    picture = Image.fromarray(shot.photo.pixels[top:bottom, left:right])
    factor = _SHOWN_PX / max(picture.size)
    picture = picture.resize((round(picture.width * factor), round(picture.height * factor)))
    _draw_joints(picture, shot, body, joint, moves, (left, top), factor)
    click: dict[str, Any] | None = streamlit_image_coordinates(
        picture,
        key=f"joints.{shot.key}",
        width="stretch",
        image_format="JPEG",
        jpeg_quality=85,
        cursor="crosshair",
    )
    handled = f"joint_clicked.{shot.key}"
    if not click or click["unix_time"] == st.session_state.get(handled):
        return
    st.session_state[handled] = click["unix_time"]
    working_px = np.array(
        [
            left + (click["x"] + 0.5) / click["width"] * (right - left) - 0.5,
            top + (click["y"] + 0.5) / click["height"] * (bottom - top) - 0.5,
        ]
    )
    x_px, y_px = shot.photo.upright_px(working_px)
    moves[joint] = round(float(x_px), 1), round(float(y_px), 1)
    _renew(shot)


def _type_place(shot: Shot, body: Body, joint: Landmark, moves: Moves) -> None:
    place = _place(body, joint, moves)
    version = st.session_state.setdefault(f"moves_version.{shot.key}", 0)
    typed = tuple(
        column.number_input(
            f"{_WORDS[joint]}: {axis} (pixels)",
            min_value=0.0,
            max_value=float(limit),
            value=round(min(max(value, 0.0), float(limit)), 1),
            step=1.0,
            format="%.1f",
            key=f"moved.{shot.key}.{version}.{joint}.{axis}",
        )
        for column, axis, value, limit in zip(
            st.columns(2),
            ("x", "y"),
            place,
            (shot.photo.width_px, shot.photo.height_px),
            strict=True,
        )
    )
    if max(abs(a - b) for a, b in zip(typed, place, strict=True)) > 0.06:
        moves[joint] = typed[0], typed[1]
        st.rerun()


def _renew(shot: Shot) -> None:
    st.session_state[f"moves_version.{shot.key}"] = (
        st.session_state.get(f"moves_version.{shot.key}", 0) + 1
    )
    st.rerun()


def _legs_box(shot: Shot, body: Body) -> tuple[int, int, int, int]:
    """Working pixels around the legs: left, top, right, bottom."""
    joints_px = shot.photo.working_px(body.points_px(LEG_LANDMARKS))
    margin = 0.25 * float(np.ptp(joints_px[:, 1]))
    height, width = shot.photo.pixels.shape[:2]
    low, high = joints_px.min(axis=0) - margin, joints_px.max(axis=0) + margin
    return (
        int(max(low[0], 0)),
        int(max(low[1], 0)),
        int(min(high[0], width)),
        int(min(high[1], height)),
    )


def _draw_joints(
    picture: Image.Image,
    shot: Shot,
    body: Body,
    joint: Landmark,
    moves: Moves,
    corner: tuple[int, int],
    factor: float,
) -> None:
    draw = ImageDraw.Draw(picture)
    for landmark in LEG_LANDMARKS:
        working_px = shot.photo.working_px(np.array(_place(body, landmark, moves)))
        x, y = ((working_px - np.array(corner) + 0.5) * factor).tolist()
        chosen = landmark == joint
        reach = 11 if chosen else 6
        draw.ellipse(
            (x - reach, y - reach, x + reach, y + reach),
            outline=(0, 0, 0),
            width=5 if chosen else 3,
        )
        draw.ellipse(
            (x - reach + 1, y - reach + 1, x + reach - 1, y + reach - 1),
            outline=(255, 255, 255) if chosen else (255, 196, 0),
            width=3 if chosen else 2,
        )
