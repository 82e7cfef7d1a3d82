"""A reference object found in a picture: known millimetres against seen pixels.

The object's frame lies in the plane it is mounted in: origin near its centre, x
to the right, y down, in millimetres. Pixels are those of the upright picture.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

__all__ = ["CircleReference", "Placement", "PointReference", "Reference", "ReferenceKind"]

#: `auto` asks for a search; what is found has one of the other kinds.
ReferenceKind = Literal[
    "auto", "sheet", "letter", "a4", "door", "wheel", "length", "height", "book"
]
#: `wall`: on the wall at which the child's heels stand. `beside`: in the plane of the legs.
Placement = Literal["wall", "beside"]


@dataclass(frozen=True, eq=False, slots=True)
class PointReference:
    """A flat object known by its points.

    Attributes
    ----------
    object_mm, image_px
        (N, 2) arrays in the same order, N at least 2.
    point_sd_px
        Standard uncertainty of a point's position in the picture.
    log_size_sd
        Relative standard uncertainty of the object's size.
    log_aspect_sd
        Relative standard uncertainty of its width against its height: small for
        paper, large for a door whose width nobody measured.
    """

    kind: ReferenceKind
    placement: Placement
    object_mm: NDArray[np.float64]
    image_px: NDArray[np.float64]
    point_sd_px: float
    log_size_sd: float
    log_aspect_sd: float

    def __post_init__(self) -> None:
        shapes = self.object_mm.shape, self.image_px.shape
        if shapes[0] != shapes[1] or self.object_mm.ndim != 2 or self.object_mm.shape[1] != 2:
            raise ValueError(f"wanted two (N, 2) arrays of the same length, found {shapes}")
        if len(self.object_mm) < 2:
            raise ValueError(f"wanted at least 2 points, found {len(self.object_mm)}")
        _check_uncertainty(self.point_sd_px, self.log_size_sd, self.log_aspect_sd)


@dataclass(frozen=True, eq=False, slots=True)
class CircleReference:
    """A tyre known by its radius and width and by points on its outline, a torus.

    Attributes
    ----------
    radius_mm
        Outside radius.
    width_mm
        Thickness of the tyre, at right angles to its plane and within it alike; seen
        obliquely it makes the outline rounder than the circle in the tyre's plane.
    image_px
        (N, 2) array of points on the outer edge as seen, anywhere on it, N at least 5.
    """

    kind: ReferenceKind
    placement: Placement
    radius_mm: float
    width_mm: float
    image_px: NDArray[np.float64]
    point_sd_px: float
    log_size_sd: float

    def __post_init__(self) -> None:
        if self.image_px.ndim != 2 or self.image_px.shape[1] != 2 or len(self.image_px) < 5:
            raise ValueError(f"wanted at least 5 points (N, 2), found {self.image_px.shape}")
        if not 0 < self.width_mm < self.radius_mm:
            raise ValueError(
                f"wanted a width above 0 and below the radius of {self.radius_mm} mm,"
                f" found {self.width_mm} mm"
            )
        _check_uncertainty(self.point_sd_px, self.log_size_sd)


Reference = PointReference | CircleReference


def _check_uncertainty(*values: float) -> None:
    if not all(value > 0 for value in values):
        raise ValueError(f"unknown is not 0: wanted uncertainties above 0, found {values}")
