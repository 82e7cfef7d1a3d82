"""Which child of several in a picture is meant: asked only where it is not clear."""

from typing import Final

from pose_fit.app.inputs.pointing import PointPlaces, Spot, edit_places, points_of
from pose_fit.app.session import Shot
from pose_fit.measure import PhotoMeasurement
from pose_fit.photo.photo import Place
from pose_fit.refusal import Refusal

__all__ = ["asks_which_child", "child_pointed_at", "point_at_child"]

_NAME: Final = "child"
#: Codes that tell of more than one person.
_SEVERAL: Final = frozenset(
    {"several_people", "others_in_picture", "person_chosen", "nobody_there", "people_overlap"}
)


def child_pointed_at(shot: Shot) -> Place | None:
    """Where somebody clicked on the child that is meant, upright pixels."""
    points = points_of(shot, _NAME)
    return points[0] if points else None


def asks_which_child(result: PhotoMeasurement | Refusal) -> bool:
    """Whether several people are told of."""
    told = result.reasons if isinstance(result, Refusal) else result.inseam.warnings
    return bool(_SEVERAL & {notice.code for notice in told})


def point_at_child(shot: Shot, label: str) -> None:
    """Let the visitor click on the child that is meant."""
    edit_places(shot, _NAME, PointPlaces(points_of(shot, _NAME)), [Spot("0", label)])
