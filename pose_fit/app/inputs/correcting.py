"""Put joints, crotch and floor right by clicking, or typing, where they are."""

from typing import Any, Final, Literal

import numpy as np
import streamlit as st
from PIL import Image, ImageDraw

from pose_fit.app.session import FIELD, Shot, remembered
from pose_fit.app.session_pose import session_pose
from pose_fit.body.body import LEG_LANDMARKS, Body, Landmark
from pose_fit.measure import PhotoMeasurement
from pose_fit.photo.photo import Place
from pose_fit.refusal import Refusal

__all__ = ["MARKS", "Mark", "Moves", "joints_of", "moves_of", "offer_correcting"]

Mark = Landmark | Literal["crotch", "floor"]
Moves = dict[Mark, Place]

MARKS: Final[tuple[Mark, ...]] = (*LEG_LANDMARKS, "crotch", "floor")
_WORDS: Final[dict[Mark, str]] = {
    **{
        landmark: f"{landmark.split('_')[1]}, the child’s {landmark.split('_')[0]}"
        for landmark in LEG_LANDMARKS
    },
    "crotch": "crotch",
    "floor": "floor at the toes",
}
_JOINT: Final = "Click the middle of the joint, not the edge of the leg."
_WHERE: Final[dict[Mark, str]] = {
    "crotch": "Click where the legs part: the top of the gap, seam or crease between them. Behind a"
    " long top it stays a guess, and counts as one.",
    "floor": "Click where the tip of the toes or shoes meets the floor: the lowest point of a foot."
    " Where one foot is lower in the picture, click halfway between the two.",
}
_SHOWN_PX: Final = 900
_DARK, _CHOSEN = (0, 0, 0), (255, 255, 255)
#: As on the picture with its marks.
_COLOUR: Final[dict[Mark, tuple[int, int, int]]] = {
    **dict.fromkeys(LEG_LANDMARKS, (255, 196, 0)),
    "crotch": (255, 90, 160),
    "floor": (60, 220, 120),
}


def moves_of(shot: Shot) -> Moves:
    """What was put right in one picture; upright pixels."""
    empty: Moves = {}
    return remembered(f"moves.{shot.key}", lambda: empty)


def joints_of(moves: Moves) -> dict[Landmark, Place]:
    """The joints among what was put right."""
    return {landmark: moves[landmark] for landmark in LEG_LANDMARKS if landmark in moves}


def offer_correcting(shot: Shot, result: PhotoMeasurement | Refusal) -> None:
    """Let the visitor put right what was found, also where it led to a refusal."""
    body = session_pose().find(shot.photo)
    # Shown only when asked for: a clickable picture takes its height as it appears.
    if body is not None and st.toggle(
        "Put joints, crotch or floor right", key=f"{FIELD}correct.{shot.key}"
    ):
        _correct(shot, body, result)


def _correct(shot: Shot, body: Body, result: PhotoMeasurement | Refusal) -> None:
    moves = moves_of(shot)
    mark: Mark = st.radio(
        "To put right",
        MARKS,
        format_func=_WORDS.__getitem__,
        key=f"{FIELD}joint.{shot.key}",
        horizontal=True,
    )
    st.caption(_WHERE.get(mark, _JOINT))
    places = _places(body, result) | moves
    _take_click(shot, body, mark, places)
    _type_place(shot, mark, places.get(mark))
    with st.container(horizontal=True):
        if st.button(
            "Take this one back", key=f"unmove_one.{shot.key}", disabled=mark not in moves
        ):
            del moves[mark]
            _renew(shot)
        if st.button("Back to what the program saw", key=f"unmove.{shot.key}", disabled=not moves):
            moves.clear()
            _renew(shot)


def _places(body: Body, result: PhotoMeasurement | Refusal) -> Moves:
    """Where the program saw the marks; crotch and floor may be missing."""
    places: Moves = {landmark: _place(body.point_px(landmark)) for landmark in LEG_LANDMARKS}
    if isinstance(result, PhotoMeasurement):
        sights = result.sights
        if sights.crotch is not None:
            places["crotch"] = _place(sights.crotch.point_px)
        if sights.toes_px is not None:
            places["floor"] = _place(sights.toes_px.mean(axis=0))
    return places


def _place(point_px: np.ndarray[Any, np.dtype[np.float64]]) -> Place:
    return float(point_px[0]), float(point_px[1])


def _take_click(shot: Shot, body: Body, mark: Mark, places: Moves) -> None:
    from streamlit_image_coordinates import streamlit_image_coordinates

    left, top, right, bottom = _legs_box(shot, body)
    picture = Image.fromarray(shot.photo.pixels[top:bottom, left:right])
    factor = _SHOWN_PX / max(picture.size)
    picture = picture.resize((round(picture.width * factor), round(picture.height * factor)))
    draw = ImageDraw.Draw(picture)
    for name, place in places.items():
        working_px = shot.photo.working_px(np.array(place))
        x, y = ((working_px - np.array((left, top)) + 0.5) * factor).tolist()
        _draw_mark(draw, x, y, name, chosen=name == mark)
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
    moves_of(shot)[mark] = round(float(x_px), 1), round(float(y_px), 1)
    _renew(shot)


def _type_place(shot: Shot, mark: Mark, place: Place | None) -> None:
    version = st.session_state.setdefault(f"moves_version.{shot.key}", 0)
    limits = shot.photo.width_px, shot.photo.height_px
    shown = (
        [None, None]
        if place is None
        else [
            round(min(max(value, 0.0), float(limit)), 1)
            for value, limit in zip(place, limits, strict=True)
        ]
    )
    typed = [
        column.number_input(
            f"{_WORDS[mark]}: {axis} (pixels)",
            min_value=0.0,
            max_value=float(limit),
            value=value,
            step=1.0,
            format="%.1f",
            key=f"moved.{shot.key}.{version}.{mark}.{axis}",
        )
        for column, axis, value, limit in zip(st.columns(2), ("x", "y"), shown, limits, strict=True)
    ]
    x_px, y_px = typed
    if x_px is None or y_px is None or typed == shown:
        return
    moves_of(shot)[mark] = x_px, y_px
    st.rerun()


def _renew(shot: Shot) -> None:
    st.session_state[f"moves_version.{shot.key}"] = (
        st.session_state.get(f"moves_version.{shot.key}", 0) + 1
    )
    st.rerun()


def _legs_box(shot: Shot, body: Body) -> tuple[int, int, int, int]:
    """Working pixels around the legs and feet: left, top, right, bottom."""
    joints_px = shot.photo.working_px(body.points_px(LEG_LANDMARKS))
    margin = 0.25 * float(np.ptp(joints_px[:, 1]))
    height, width = shot.photo.pixels.shape[:2]
    low, high = joints_px.min(axis=0) - margin, joints_px.max(axis=0) + margin
    # Feet reach further below the ankles than anything else beyond the joints.
    high[1] += 0.6 * margin
    return (
        int(max(low[0], 0)),
        int(max(low[1], 0)),
        int(min(high[0], width)),
        int(min(high[1], height)),
    )


def _draw_mark(draw: ImageDraw.ImageDraw, x: float, y: float, mark: Mark, *, chosen: bool) -> None:
    """Joints are rings, the crotch a diamond, the floor a bar; the chosen one is larger and white."""
    reach = 11 if chosen else 6
    colour = _CHOSEN if chosen else _COLOUR[mark]
    for ink, by, width in ((_DARK, 0, 5 if chosen else 3), (colour, 1, 3 if chosen else 2)):
        size = reach - by
        match mark:
            case "crotch":
                corners = [(x, y - size), (x + size, y), (x, y + size), (x - size, y)]
                draw.polygon(corners, outline=ink, width=width)
            case "floor":
                draw.line((x - 2 * size, y, x + 2 * size, y), fill=ink, width=width)
            case _:
                draw.ellipse((x - size, y - size, x + size, y + size), outline=ink, width=width)
