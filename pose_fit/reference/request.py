"""The object of known size as the user states it: its kind, its size, and where it lies."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, get_args

from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM
from pose_fit.bicycle.tyre import OUTSIDE_DIAMETER_SD_MM
from pose_fit.errors import ReferenceObjectError
from pose_fit.photo.photo import Place
from pose_fit.reference.body_height import STATURE_SD_MM
from pose_fit.reference.book_label import LABEL_WIDTH_MM
from pose_fit.reference.printed_sheet import RULER_MM
from pose_fit.reference.reference import Placement, ReferenceKind

__all__ = ["REFERENCE_KINDS", "ReferenceRequest"]

REFERENCE_KINDS: Final[tuple[ReferenceKind, ...]] = get_args(ReferenceKind)
#: Largest departure of the printed ruler that a printer's scaling explains: "fit to page"
#: shrinks to 94 to 97 % (from memory, weak).
RULER_RANGE: Final = (0.85, 1.15)
#: What stands in the legs' own plane unless somebody says otherwise.
_BESIDE: Final = ("wheel", "height", "book")
#: What a page's ruler measures where it is printed true to scale.
_PRINTED_MM: Final[dict[str, float]] = {
    "auto": RULER_MM,
    "sheet": RULER_MM,
    "book": LABEL_WIDTH_MM,
}
#: Sizes outside these cannot be the object they are said to be, millimetres.
_SIZE_RANGE_MM: Final = {
    "door": (1500.0, 2800.0),
    "length": (100.0, 3000.0),
    "wheel": (200.0, 800.0),
    "height": STATURE_RANGE_MM,
}


@dataclass(frozen=True, slots=True)
class ReferenceRequest:
    """What the user says lies in the picture.

    Attributes
    ----------
    kind
        The object; ``auto`` where nobody named one and it is looked for.
    size_mm
        Height of the door, the known length, the tyre's outside diameter, or the child's own
        height without shoes; a height may be left out where the child's stature is stated.
    width_mm
        Width of the tyre; other kinds have none.
    points_px
        (x, y) of each point in upright pixels, or None to have the object found; any
        iterable of pairs is taken.
    placement
        On the wall at the heels, or beside the child in the plane of the legs. None becomes the
        usual one: `beside` for a wheel, `wall` for everything else.
    ruler_mm
        What the ruler on the printed sheet measures, or the bold bar on the book's label; or None.
    size_sd_mm
        Standard uncertainty of a tyre's outside diameter or a child's height; None becomes the
        usual one.
    measured_on
        Day on which the child's height was measured; None where it was the picture's day.
    """

    kind: ReferenceKind = "auto"
    size_mm: float | None = None
    width_mm: float | None = None
    points_px: tuple[Place, ...] | None = None
    placement: Placement | None = None
    ruler_mm: float | None = None
    size_sd_mm: float | None = None
    measured_on: dt.date | None = None

    def __post_init__(self) -> None:
        if self.points_px is not None:
            pairs: Iterable[Place] = self.points_px
            as_pairs = tuple((float(x_px), float(y_px)) for x_px, y_px in pairs)
            object.__setattr__(self, "points_px", as_pairs)
        if self.placement is None:
            usual: Placement = "beside" if self.kind in _BESIDE else "wall"
            object.__setattr__(self, "placement", usual)
        if self.kind == "wheel" and self.size_sd_mm is None:
            object.__setattr__(self, "size_sd_mm", OUTSIDE_DIAMETER_SD_MM)
        if self.kind == "height" and self.size_sd_mm is None:
            object.__setattr__(self, "size_sd_mm", STATURE_SD_MM)
        if self.kind not in REFERENCE_KINDS:
            raise ReferenceObjectError(
                f"unknown reference {self.kind!r}; wanted one of {', '.join(REFERENCE_KINDS)}"
            )
        if self.kind == "auto" and self.points_px is not None:
            raise ReferenceObjectError(
                "wanted the object whose points these are: one of "
                + ", ".join(REFERENCE_KINDS[1:]),
                about="points",
            )
        if self.kind in ("wheel", "length") and self.size_mm is None:
            raise ReferenceObjectError(f"{self.kind}: wanted its size, found none", about="size")
        if (self.kind == "wheel") != (self.width_mm is not None):
            raise ReferenceObjectError(
                f"{self.kind}: wanted {'the' if self.kind == 'wheel' else 'no'} width of a tyre,"
                f" found {self.width_mm}",
                about="size",
            )
        if self.size_mm is not None and self.kind not in _SIZE_RANGE_MM:
            raise ReferenceObjectError(
                f"{self.kind}: its size is known; wanted none, found {self.size_mm:g} mm",
                about="size",
            )
        if self.kind in ("door", "length") and self.points_px is None:
            wanted = "its four corners" if self.kind == "door" else "its two ends"
            raise ReferenceObjectError(
                f"{self.kind}: wanted {wanted} as points, found none", about="points"
            )
        if self.kind in _PRINTED_MM and self.points_px is not None:
            raise ReferenceObjectError(
                f"{self.kind}: its markers are found by themselves; wanted no points",
                about="points",
            )
        self._check_ruler()
        if self.size_mm is not None:
            low_mm, high_mm = _SIZE_RANGE_MM[self.kind]
            if not low_mm <= self.size_mm <= high_mm:
                raise ReferenceObjectError(
                    f"{self.kind}: wanted a size of {low_mm:.0f} to {high_mm:.0f} mm,"
                    f" found {self.size_mm:g} mm",
                    about="size",
                )

    def _check_ruler(self) -> None:
        if self.ruler_mm is None:
            return
        if self.kind not in _PRINTED_MM:
            raise ReferenceObjectError(
                "only the printed pages have a ruler to measure", about="ruler"
            )
        low_mm, high_mm = (part * _PRINTED_MM[self.kind] for part in RULER_RANGE)
        if not low_mm <= self.ruler_mm <= high_mm:
            raise ReferenceObjectError(
                f"{self.kind}: the ruler should measure {low_mm:.0f} to {high_mm:.0f} mm,"
                f" found {self.ruler_mm:g} mm",
                about="ruler",
            )
