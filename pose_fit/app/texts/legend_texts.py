"""The legend of a picture with marks: joints, object, floor, crotch."""

from collections.abc import Mapping
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["LEGEND"]

LEGEND: Final[Mapping[Language, tuple[str, str, str, str]]] = {
    "en": (
        "hip, knee and ankle",
        "object of known size",
        "floor",
        "crotch, and how sure",
    ),
    "es": (
        "cadera, rodilla y tobillo",
        "objeto de tamaño conocido",
        "suelo",
        "entrepierna, y lo segura que es",
    ),
}
