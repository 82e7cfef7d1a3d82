"""Does a sheet of paper that was found hang on the wall?

Between the legs of a stool or a table a piece of wall shows that has a sheet's shape and stands out
on all four sides. It ends where the wall ends, at the floor. Paper that hangs beside the legs ends
well above.
"""

from typing import Final

import numpy as np

from pose_fit.checks.feet_on_floor import SURELY_SEEN
from pose_fit.reference.reference import PointReference, Reference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.sights.candidates import WallBaseCandidate

__all__ = ["check_paper_hangs"]

#: Both lower corners are this near the foot of the wall, in heights of the paper. Of 48 rendered
#: sheets on a wall none ends lower than 0.27 above it.
MOST_ABOVE_FLOOR: Final = 0.08


def check_paper_hangs(
    reference: Reference,
    request: ReferenceRequest,
    wall_bases: tuple[WallBaseCandidate, ...],
) -> Refusal | None:
    """A refusal where the paper, found by nobody's clicks, ends where the wall ends, else None."""
    is_found = reference.kind in ("letter", "a4") and request.points_px is None
    if not (is_found and isinstance(reference, PointReference)):
        return None
    if not wall_bases or wall_bases[0].weight < SURELY_SEEN:
        return None
    (left_px, base_px), (right_px, other_px) = wall_bases[0].line_px
    slope = (other_px - base_px) / (right_px - left_px)
    corners_px = reference.image_px[np.argsort(reference.image_px[:, 1])]
    height_px = float(corners_px[2:, 1].mean() - corners_px[:2, 1].mean())
    above_px = base_px + slope * (corners_px[2:, 0] - left_px) - corners_px[2:, 1]
    if np.abs(above_px).max() > MOST_ABOVE_FLOOR * height_px:
        return None
    return Refusal.because(
        "paper_unsure",
        "What looks like a sheet of paper ends where the wall meets the floor: it may be a piece of"
        " wall between the legs of a stool or table.",
        "Tape the sheet flat on the wall, above the floor, or mark its corners.",
        asks=("points",),
    )
