"""Joints, crotch and floor that somebody may put right, as spots of the click editor."""

from typing import Any, Final, Literal

import numpy as np
import streamlit as st
from PIL import ImageDraw

from pose_fit.app.inputs.pointing import Box, MarkPlaces, Spot, edit_places
from pose_fit.app.session import Fields, Shot, said_of
from pose_fit.app.session_pose import session_pose
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.object_texts import CORRECTING, CorrectingTexts
from pose_fit.body.body import LEG_LANDMARKS, Body, Landmark
from pose_fit.measure import PhotoMeasurement
from pose_fit.photo.photo import Place
from pose_fit.refusal import Refusal

__all__ = ["Mark", "Moves", "joints_of", "moves_of", "offer_correcting"]

Mark = Landmark | Literal["crotch", "floor"]
Moves = dict[Mark, Place]

#: As on the picture with its marks.
_JOINT_COLOUR: Final = (255, 196, 0)
_CROTCH_COLOUR: Final = (255, 90, 160)
_FLOOR_COLOUR: Final = (60, 220, 120)


def moves_of(shot: Shot) -> Moves:
    """What was put right in one picture; upright pixels."""
    moves: Moves = said_of(shot).moves
    return moves


def joints_of(moves: Moves) -> dict[Landmark, Place]:
    """The joints among what was put right."""
    return {landmark: moves[landmark] for landmark in LEG_LANDMARKS if landmark in moves}


def offer_correcting(shot: Shot, result: PhotoMeasurement | Refusal) -> None:
    """Let the visitor put right what was found, also where it led to a refusal."""
    body = session_pose().find(shot.photo)
    say = in_language(CORRECTING)
    # Shown only when asked for: a clickable picture takes its height as it appears.
    if body is not None and st.toggle(say.put_right, key=Fields(f"shot.{shot.key}").key("correct")):
        spots = _spots(body, result, say)
        edit_places(shot, "marks", MarkPlaces(moves_of(shot)), spots, box=_legs_box(shot, body))


def _spots(
    body: Body, result: PhotoMeasurement | Refusal, say: CorrectingTexts
) -> tuple[Spot, ...]:
    """Each mark with where the program saw it; crotch and floor may be unseen."""
    crotch_px = floor_px = None
    if isinstance(result, PhotoMeasurement):
        sights = result.sights
        # The joints that were measured with, which may lie elsewhere than the pose model's.
        body = sights.body
        if sights.crotch is not None:
            crotch_px = _place(sights.crotch.point_px)
        if sights.toes_px is not None:
            floor_px = _place(sights.toes_px.mean(axis=0))
    return (
        Spot("crotch", say.crotch, say.crotch_hint, crotch_px, _CROTCH_COLOUR, _diamond),
        Spot("floor", say.floor, say.floor_hint, floor_px, _FLOOR_COLOUR, _bar),
        *(
            Spot(
                landmark,
                say.joints[landmark],
                say.joint_hint,
                _place(body.point_px(landmark)),
                _JOINT_COLOUR,
                _ring,
            )
            for landmark in LEG_LANDMARKS
        ),
    )


def _place(point_px: np.ndarray[Any, np.dtype[np.float64]]) -> Place:
    return float(point_px[0]), float(point_px[1])


def _legs_box(shot: Shot, body: Body) -> Box:
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


Ink = tuple[int, int, int]


def _ring(
    draw: ImageDraw.ImageDraw, x: float, y: float, reach: float, ink: Ink, width: int
) -> None:
    draw.ellipse((x - reach, y - reach, x + reach, y + reach), outline=ink, width=width)


def _diamond(
    draw: ImageDraw.ImageDraw, x: float, y: float, reach: float, ink: Ink, width: int
) -> None:
    corners = [(x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y)]
    draw.polygon(corners, outline=ink, width=width)


def _bar(draw: ImageDraw.ImageDraw, x: float, y: float, reach: float, ink: Ink, width: int) -> None:
    draw.line((x - 2 * reach, y, x + 2 * reach, y), fill=ink, width=width)
