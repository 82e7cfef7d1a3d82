"""What was found in one photo: the plane, the body, and the candidates of every sight."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEG_LANDMARKS, Body
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import LegGeometry, PhotoEquation, leg_geometry
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.reference.reference import CircleReference, Reference
from pose_fit.sights.candidates import (
    BookCrotch,
    CrotchCandidate,
    ToesCandidate,
    WallBaseCandidate,
)
from pose_fit.task.legwear import Legwear

__all__ = ["PhotoSights", "legs_of"]


@dataclass(frozen=True, slots=True)
class PhotoSights:
    """What was found in one photo, in pixels of the upright picture.

    Attributes
    ----------
    crotches, toes, wall_bases
        Candidates of each, the likeliest by the picture first.
    soles_mm, soles_sd_mm
        Soles worn in the photo.
    is_unfamiliar
        The legs are unlike all that the network was trained on.
    seen_body
        The body as the pose model alone sees it, where ``body`` has joints of the network too: that
        one was trained on standing children and puts the ankles over raised heels as if they stood.
    legwear
        What the child wears on the legs, None where nobody said.
    base_above_mm
        How far above the place where the feet put the floor the one clear edge along the wall lies,
        where that is too far for a child near the wall; else 0.
    book
        The crotch by a book between the legs; there are no other crotches then.
    """

    plane: PlaneScale
    reference: Reference
    body: Body
    crotches: tuple[CrotchCandidate, ...]
    toes: tuple[ToesCandidate, ...]
    wall_bases: tuple[WallBaseCandidate, ...]
    soles_mm: float
    soles_sd_mm: float
    legwear: Legwear | None = None
    base_above_mm: float = 0.0
    book: BookCrotch | None = None
    is_unfamiliar: bool = False
    seen_body: Body | None = None

    @property
    def crotch(self) -> CrotchCandidate | None:
        """The first candidate, or None."""
        return self.crotches[0] if self.crotches else None

    @property
    def legs_only(self) -> bool:
        """No crotch is seen: the hips alone say where the legs begin."""
        return not self.crotches and self.book is None

    @property
    def hang_part(self) -> float:
        """How far the network sees cloth hang below the skin's crotch, in legs; 0 without it."""
        return max((one.hang_part for one in self.crotches), default=0.0)

    @property
    def toes_px(self) -> NDArray[np.float64] | None:
        """(2, 2) array: the first candidate, or None."""
        return self.toes[0].points_px if self.toes else None

    @property
    def wall_base_px(self) -> NDArray[np.float64] | None:
        """(2, 2) array: the first candidate, or None."""
        return self.wall_bases[0].line_px if self.wall_bases else None

    @property
    def is_beside(self) -> bool:
        """The reference stands in the legs' own plane."""
        return self.reference.placement == "beside"

    @property
    def equation(self) -> PhotoEquation:
        """The measurement equation that these candidates allow."""
        reference = self.reference
        return PhotoEquation(
            crotches=len(self.crotches),
            at_skin=tuple(one.is_at_skin for one in self.crotches),
            toes=len(self.toes),
            wall_bases=len(self.wall_bases),
            has_book=self.book is not None,
            wheel_radius_mm=reference.radius_mm if isinstance(reference, CircleReference) else None,
        )

    def only(self, crotch: int | None, toes: int | None, wall_base: int | None) -> "PhotoSights":
        """The same photo with at most one candidate of each, by place."""
        return replace(
            self,
            crotches=() if crotch is None or self.book is not None else (self.crotches[crotch],),
            toes=() if toes is None else (self.toes[toes],),
            wall_bases=() if wall_base is None else (self.wall_bases[wall_base],),
        )


def legs_of(plane: PlaneScale, body: Body, *, beside: bool, model: ErrorModel) -> LegGeometry:
    """The legs in millimetres, everything at its mean."""
    return leg_geometry(
        plane.parameters,
        body.points_px(LEG_LANDMARKS),
        model.gap_mm(beside=beside),
        model.depth_parts(beside=beside)[:3],
        np.array(model.shift_parts),
    )
