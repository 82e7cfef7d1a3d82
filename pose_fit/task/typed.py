"""What was typed of a photo, as the library's types; heavy imports where needed."""

import math
from typing import TYPE_CHECKING

from pose_fit.errors import InputError, ReferenceObjectError

if TYPE_CHECKING:
    from pose_fit.photo.photo import Place
    from pose_fit.reference.request import ReferenceRequest

__all__ = ["place_px", "reference_request"]


def reference_request(
    kind: str | None, size: str | None, points: str | None, plane: str | None, ruler: float | None
) -> "ReferenceRequest":
    """The reference as typed.

    Raises
    ------
    InputError
        Unknown kind, size or points that cannot be read, or that do not go together.
    """
    from pose_fit.bicycle.tyre import Tyre, read_marking
    from pose_fit.metrology.units import parse_length_mm
    from pose_fit.reference.request import REFERENCE_KINDS, ReferenceRequest

    kind = kind or "auto"
    if kind not in REFERENCE_KINDS:
        raise ReferenceObjectError(
            f"unknown reference {kind!r}; wanted one of {', '.join(REFERENCE_KINDS)}"
        )
    size_mm = width_mm = size_sd_mm = None
    if size is not None and kind == "wheel":
        tyre = read_marking(size)
        if not isinstance(tyre, Tyre):
            raise ReferenceObjectError(
                f"wheel: {tyre}; give the code with the hyphen, such as 47-406"
            )
        size_mm, width_mm = tyre.outside_diameter_mm, tyre.width_mm
        size_sd_mm = tyre.outside_diameter_sd_mm
    elif size is not None:
        size_mm = parse_length_mm(size)
    return ReferenceRequest(
        kind=kind,
        size_mm=size_mm,
        width_mm=width_mm,
        points_px=None if points is None else _points_px(points),
        placement=plane,  # type: ignore[arg-type]
        ruler_mm=ruler,
        size_sd_mm=size_sd_mm,
    )


def place_px(option: str, text: str | None) -> "Place | None":
    """One place in the picture as typed, or None.

    Raises
    ------
    InputError
        Anything but two numbers.
    """
    if text is None:
        return None
    try:
        x_px, y_px = (float(part) for part in text.split(","))
    except ValueError:
        raise InputError(f'{option}: wanted "x,y", found {text!r}') from None
    return x_px, y_px


def _points_px(text: str) -> "tuple[Place, ...]":
    places = []
    for place in text.split():
        try:
            x_px, y_px = (float(part) for part in place.split(","))
        except ValueError:
            raise ReferenceObjectError(f'--points: wanted "x,y x,y ...", found {place!r}') from None
        places.append((x_px, y_px))
    if not all(math.isfinite(value) for place in places for value in place):
        raise ReferenceObjectError("--points: wanted finite numbers")
    return tuple(places)
