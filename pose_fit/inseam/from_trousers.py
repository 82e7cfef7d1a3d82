"""Inseam from a pair of trousers that fits: a rough reading, never a bold one.

Common practice, no source: a garment's inside seam is shorter than the inseam, because
its crotch hangs below the body's and its hem ends above the floor.
"""

import math
from typing import Final

from pose_fit.errors import PersonError
from pose_fit.inseam.inseam import INSEAM_RANGE_MM, Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice

__all__ = [
    "CROTCH_HANGS_MM",
    "HEM_ABOVE_FLOOR_MM",
    "SEAM_SD_MM",
    "inseam_from_trousers",
]

#: How far the garment's crotch hangs below the body's: mean and standard uncertainty.
#: Common practice, no source.
CROTCH_HANGS_MM: Final = (20.0, 12.0)
#: Where the hem ends above the floor, barefoot: mean and standard uncertainty where nobody
#: looked. Common practice, no source; children outgrow trousers, so it is wide.
HEM_ABOVE_FLOOR_MM: Final = (30.0, 20.0)
#: A seam laid flat and measured once.
SEAM_SD_MM: Final = 6.0
#: A hem height that somebody measured on the child.
_HEM_MEASURED_SD_MM: Final = 8.0


def inseam_from_trousers(
    inside_seam_mm: float, *, hem_above_floor_mm: float | None = None
) -> Inseam:
    """Inseam from the inside seam of long trousers the child wears now.

    Parameters
    ----------
    inside_seam_mm
        Crotch seam to hem along the inside of the leg, laid flat.
    hem_above_floor_mm
        Height of the hem above the floor with the trousers worn barefoot; None where
        nobody looked.

    Raises
    ------
    PersonError
        A length that is not finite, or impossible.
    """
    hem_mm, hem_sd_mm = HEM_ABOVE_FLOOR_MM
    if hem_above_floor_mm is not None:
        hem_mm, hem_sd_mm = hem_above_floor_mm, _HEM_MEASURED_SD_MM
    if not (math.isfinite(inside_seam_mm) and inside_seam_mm > 0):
        raise PersonError(f"the inside seam must be above 0 mm, found {inside_seam_mm}")
    if not 0 <= hem_mm < inside_seam_mm:
        raise PersonError(
            "the hem must lie between the floor and the length of the seam above it,"
            f" found {hem_mm} mm for a seam of {inside_seam_mm} mm"
        )
    hangs_mm, hangs_sd_mm = CROTCH_HANGS_MM
    mean_mm, (low_mm, high_mm) = inside_seam_mm + hem_mm + hangs_mm, INSEAM_RANGE_MM
    if not low_mm <= mean_mm <= high_mm:
        raise PersonError(
            f"an inside seam of {both_units(inside_seam_mm)} gives an inseam of"
            f" {both_units(mean_mm)}; wanted one of {both_units(low_mm)} to {both_units(high_mm)}"
        )
    budget = (
        Contribution("how low the trouser crotch hangs", hangs_sd_mm, shared=True),
        Contribution("where the hem ends above the floor", hem_sd_mm, shared=True),
        Contribution("seam as measured", SEAM_SD_MM),
    )
    return Inseam(
        UncertainLength(mean_mm, budget),
        "trousers",
        warnings=(
            Notice(
                "inseam_from_trousers",
                f"A seam of {both_units(inside_seam_mm)} is not the inseam:"
                f" {both_units(hem_mm + hangs_mm)} was added for hem and crotch"
                f"{', as is usual' if hem_above_floor_mm is None else ''}.",
            ),
        ),
        retake=("Measure the child with a tape and a book, or send a photo.",),
    )
