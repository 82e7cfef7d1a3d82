"""Which child of several in a picture is meant: asked only where it is not clear."""

from typing import Final

import streamlit as st

from pose_fit.app.inputs.pointing import mark_points, points_of
from pose_fit.app.session import FIELD, Shot
from pose_fit.measure import PhotoMeasurement
from pose_fit.photo.photo import Place
from pose_fit.refusal import Refusal

__all__ = ["child_pointed_at", "offer_choosing"]

_NAME: Final = "child"
#: Codes that tell of more than one person.
_SEVERAL: Final = frozenset(
    {"several_people", "others_in_picture", "person_chosen", "nobody_there", "people_overlap"}
)


def child_pointed_at(shot: Shot) -> Place | None:
    """Where somebody clicked on the child that is meant, upright pixels."""
    points = points_of(shot, _NAME)
    return points[0] if points else None


def offer_choosing(shot: Shot, result: PhotoMeasurement | Refusal) -> None:
    """Let the visitor click on the child that is meant, where several people are seen."""
    told = result.reasons if isinstance(result, Refusal) else result.inseam.warnings
    if not _SEVERAL & {notice.code for notice in told}:
        return
    # A refusal asks at once; where somebody was measured it is there to be changed.
    if isinstance(result, PhotoMeasurement) and not st.toggle(
        "Choose another person", key=f"{FIELD}which.{shot.key}"
    ):
        return
    mark_points(shot, _NAME, wanted=("the middle of the child to be measured",))
