"""A child's inseam from a photo or a tape, with its uncertainty, and which bicycles fit.

The names below are what a notebook needs; each is loaded when it is first used.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from pose_fit.anthropometry.child import Child
    from pose_fit.bicycle.catalogue import read_catalogue
    from pose_fit.fit.choice import choose
    from pose_fit.fit.judge import judge
    from pose_fit.fit.lift import inseam_from_lift
    from pose_fit.fit.policy import Policy, Rider
    from pose_fit.inseam.combine import combine_inseams
    from pose_fit.inseam.from_age import inseam_from_age
    from pose_fit.inseam.from_stature import inseam_from_stature
    from pose_fit.inseam.from_tape import inseam_from_tape
    from pose_fit.inseam.from_trousers import inseam_from_trousers
    from pose_fit.inseam.inseam import Inseam
    from pose_fit.measure import measure_photo
    from pose_fit.photo.clip import read_clip
    from pose_fit.photo.photo import read_photo
    from pose_fit.reference.request import ReferenceRequest
    from pose_fit.refusal import Refusal
    from pose_fit.task.photo_task import PhotoTask
    from pose_fit.task.stated import Stated

__all__ = [
    "Child",
    "Inseam",
    "PhotoTask",
    "Policy",
    "ReferenceRequest",
    "Refusal",
    "Rider",
    "Stated",
    "choose",
    "combine_inseams",
    "inseam_from_age",
    "inseam_from_lift",
    "inseam_from_stature",
    "inseam_from_tape",
    "inseam_from_trousers",
    "judge",
    "measure_photo",
    "read_catalogue",
    "read_clip",
    "read_photo",
]

_HOME: Final = {
    "Child": "anthropometry.child",
    "Inseam": "inseam.inseam",
    "PhotoTask": "task.photo_task",
    "Policy": "fit.policy",
    "ReferenceRequest": "reference.request",
    "Refusal": "refusal",
    "Rider": "fit.policy",
    "Stated": "task.stated",
    "choose": "fit.choice",
    "combine_inseams": "inseam.combine",
    "inseam_from_age": "inseam.from_age",
    "inseam_from_lift": "fit.lift",
    "inseam_from_stature": "inseam.from_stature",
    "inseam_from_tape": "inseam.from_tape",
    "inseam_from_trousers": "inseam.from_trousers",
    "judge": "fit.judge",
    "measure_photo": "measure",
    "read_catalogue": "bicycle.catalogue",
    "read_clip": "photo.clip",
    "read_photo": "photo.photo",
}


def __getattr__(name: str) -> object:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
