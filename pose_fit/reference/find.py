"""One door for all kinds of reference: what was asked for becomes a `Reference` or a refusal."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.errors import ReferenceObjectError
from pose_fit.photo import Photo
from pose_fit.reference.find_paper import find_paper_corners
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.find_wheel import find_rim_points
from pose_fit.reference.from_points import (
    door_reference,
    length_reference,
    paper_reference,
    wheel_reference,
)
from pose_fit.reference.reference import Mount, Reference, ReferenceKind
from pose_fit.reference.sheet import RULER_MM
from pose_fit.refusal import Refusal

__all__ = ["REFERENCE_KINDS", "ReferenceRequest", "find_reference"]

REFERENCE_KINDS: Final[tuple[ReferenceKind, ...]] = ReferenceKind.__args__  # type: ignore[attr-defined]
#: Largest departure of the printed ruler that a printer's scaling explains: "fit to page"
#: shrinks to 94 to 97 % (from memory, weak).
RULER_RANGE: Final = (0.85, 1.15)
#: Sizes outside these cannot be the object they are said to be, millimetres.
_SIZE_RANGE_MM: Final = {
    "door": (1500.0, 2800.0),
    "length": (100.0, 3000.0),
    "wheel": (200.0, 800.0),
}


@dataclass(frozen=True, slots=True)
class ReferenceRequest:
    """What the user says lies in the picture.

    Attributes
    ----------
    size_mm
        Height of the door, the known length, or the tyre's outside diameter.
    width_mm
        Width of the tyre; other kinds have none.
    points_px
        (N, 2) array of upright pixels, or None to have the object found.
    mount
        None for the usual one: `beside` for a wheel, `wall` for everything else.
    ruler_mm
        What the ruler on the printed sheet measures, or None.
    """

    kind: ReferenceKind
    size_mm: float | None = None
    width_mm: float | None = None
    points_px: NDArray[np.float64] | None = None
    mount: Mount | None = None
    ruler_mm: float | None = None

    def __post_init__(self) -> None:
        if self.kind not in REFERENCE_KINDS:
            raise ReferenceObjectError(
                f"unknown reference {self.kind!r}; wanted one of {', '.join(REFERENCE_KINDS)}"
            )
        if self.kind in ("wheel", "length") and self.size_mm is None:
            raise ReferenceObjectError(f"{self.kind}: wanted its size, found none")
        if (self.kind == "wheel") != (self.width_mm is not None):
            raise ReferenceObjectError(
                f"{self.kind}: wanted {'the' if self.kind == 'wheel' else 'no'} width of a tyre,"
                f" found {self.width_mm}"
            )
        if self.size_mm is not None and self.kind not in _SIZE_RANGE_MM:
            raise ReferenceObjectError(
                f"{self.kind}: its size is known; wanted none, found {self.size_mm:g} mm"
            )
        if self.kind in ("door", "length") and self.points_px is None:
            wanted = "its four corners" if self.kind == "door" else "its two ends"
            raise ReferenceObjectError(f"{self.kind}: wanted {wanted} as points, found none")
        if self.kind == "sheet" and self.points_px is not None:
            raise ReferenceObjectError(
                "sheet: its markers are found by themselves; wanted no points"
            )
        if self.ruler_mm is not None and self.kind != "sheet":
            raise ReferenceObjectError("only the printed sheet has a ruler to measure")
        low_mm, high_mm = (part * RULER_MM for part in RULER_RANGE)
        if self.ruler_mm is not None and not low_mm <= self.ruler_mm <= high_mm:
            raise ReferenceObjectError(
                f"sheet: the ruler should measure {low_mm:.0f} to {high_mm:.0f} mm,"
                f" found {self.ruler_mm:g} mm"
            )
        if self.size_mm is not None:
            low_mm, high_mm = _SIZE_RANGE_MM[self.kind]
            if not low_mm <= self.size_mm <= high_mm:
                raise ReferenceObjectError(
                    f"{self.kind}: wanted a size of {low_mm:.0f} to {high_mm:.0f} mm,"
                    f" found {self.size_mm:g} mm"
                )

    @property
    def plane(self) -> Mount:
        """Where the object is: as said, or where its kind usually is."""
        return self.mount or ("beside" if self.kind == "wheel" else "wall")


def find_reference(photo: Photo, body: Body, request: ReferenceRequest) -> Reference | Refusal:
    """The reference in the picture, by the points given or found by the program.

    Raises
    ------
    ReferenceObjectError
        Points that are too few, outside the picture or in the wrong order.
    """
    points_px, mount = request.points_px, request.plane
    match request.kind:
        case "sheet":
            return find_sheet(photo, mount=mount, ruler_mm=request.ruler_mm)
        case "letter" | "a4" as paper:
            found = points_px is None
            corners = find_paper_corners(photo, body, paper=paper) if found else points_px
            if isinstance(corners, Refusal):
                return corners
            assert corners is not None
            return paper_reference(photo, corners, paper=paper, mount=mount, found=found)
        case "wheel":
            assert request.size_mm is not None
            assert request.width_mm is not None
            found = points_px is None
            rim = (
                find_rim_points(photo, body, diameter_mm=request.size_mm, width_mm=request.width_mm)
                if found
                else points_px
            )
            if isinstance(rim, Refusal):
                return rim
            assert rim is not None
            return wheel_reference(
                photo,
                rim,
                diameter_mm=request.size_mm,
                width_mm=request.width_mm,
                mount=mount,
                found=found,
            )
        case "door":
            assert points_px is not None
            return door_reference(photo, points_px, height_mm=request.size_mm, mount=mount)
        case "length":
            assert points_px is not None
            assert request.size_mm is not None
            return length_reference(photo, points_px, length_mm=request.size_mm, mount=mount)
