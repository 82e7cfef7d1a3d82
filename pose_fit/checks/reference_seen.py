"""Is the reference what it is said to be, and seen well enough to give the scale?"""

from typing import Final

import numpy as np

from pose_fit.checks.obliquity import TOLD_OF_RAD, TOO_OBLIQUE_RAD
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.reference.find_sheet import LOG_SCALE_SD_MEASURED, LOG_SCALE_SD_UNMEASURED
from pose_fit.reference.printed_sheet import RULER_MM
from pose_fit.reference.reference import PointReference, Reference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Notice, Refusal

__all__ = ["check_reference", "reference_warnings"]

#: Above the first the reference's points do not fit the object it is said to be. The printed sheet's
#: shape is known exactly and nobody clicks it, so that less is enough; paper of another size is asked
#: about elsewhere. Above the last they fit badly, as on paper that bulges. No reference of 1,770
#: rendered photos came above 1.5; a sheet printed 20 % too tall came to 2.3.
MAX_MISFIT: Final = 4.0
MAX_MISFIT_OF_SHEET: Final = 2.0
UNEVEN_FROM: Final = 1.6
#: A reference smaller than this in the picture is measured worse than the child.
MIN_REFERENCE_PX: Final = 24.0
#: "Fit to page" shrinks Letter on A4 to 0.97 and A4 on Letter to 0.94; nothing enlarges a page that
#: is meant to be printed as it is. A ruler this much longer than drawn was misread.
MAX_ENLARGED: Final = 1.012


def check_reference(reference: Reference, plane: PlaneScale) -> Refusal | None:
    """A refusal where the reference is too small, of another shape or too oblique, else None."""
    span_px = float(np.ptp(reference.image_px, axis=0).max())
    if span_px < MIN_REFERENCE_PX:
        return Refusal.because(
            "reference_small",
            f"The {reference.kind} spans only {span_px:.0f} pixels.",
            "Come closer, or use a larger reference.",
        )
    if plane.misfit > (MAX_MISFIT_OF_SHEET if reference.kind == "sheet" else MAX_MISFIT):
        return Refusal.because(
            "reference_mismatch",
            f"The points do not have the shape of a {reference.kind}:"
            " it is another object, or it is bent, covered or printed out of shape.",
            "Check which object it is, press it flat, and mark its corners or ends exactly.",
        )
    if plane.obliquity_rad > TOO_OBLIQUE_RAD:
        return Refusal.because(
            "reference_oblique",
            f"The {reference.kind} is seen at {np.degrees(plane.obliquity_rad):.0f}°,"
            " too obliquely to give the scale.",
            "Stand straight in front of the child and the reference.",
        )
    return None


def reference_warnings(
    reference: Reference, plane: PlaneScale, request: ReferenceRequest
) -> tuple[Notice, ...]:
    """What makes the scale less sure."""
    warnings: list[Notice] = []
    if isinstance(reference, PointReference) and reference.kind == "sheet":
        warnings += _print_scale_warnings(reference, ruler_mm=request.ruler_mm)
    if plane.misfit > UNEVEN_FROM:
        warnings.append(
            Notice(
                "reference_uneven",
                f"The points of the {reference.kind} do not fit together well: it is bent, or was"
                " printed out of shape, or is marked loosely. Please press it flat, and print it again"
                " where its squares are not square.",
            )
        )
    if request.kind == "door" and request.size_mm is None:
        warnings.append(
            Notice("door_height_assumed", "Measure the door: 80 in was assumed for its height.")
        )
    if plane.obliquity_rad > TOLD_OF_RAD:
        warnings.append(
            Notice(
                "view_oblique",
                "Take the picture from straight in front, the phone level at hip height: this one is"
                f" {np.degrees(plane.obliquity_rad):.0f}° askew.",
            )
        )
    return tuple(warnings)


def _print_scale_warnings(sheet: PointReference, *, ruler_mm: float | None) -> list[Notice]:
    """What is to be told of the printed scale: nobody measured it, or two ways differ."""
    if ruler_mm is None and sheet.log_size_sd >= LOG_SCALE_SD_UNMEASURED:
        return [
            Notice(
                "print_scale_unknown",
                "Measure the ruler on the printed sheet: printers often shrink a page, and the edges of"
                " this one are not seen well enough to tell.",
            )
        ]
    if ruler_mm is not None and ruler_mm > MAX_ENLARGED * RULER_MM:
        return [
            Notice(
                "print_scale_differs",
                f"The ruler is said to measure {ruler_mm:g} mm, more than the {RULER_MM:g} mm it was"
                " drawn with: printers shrink a page, but do not enlarge it. Please measure it again.",
            )
        ]
    if ruler_mm is not None and sheet.log_size_sd > LOG_SCALE_SD_MEASURED:
        return [
            Notice(
                "print_scale_differs",
                f"The ruler is said to measure {ruler_mm:g} mm, which does not fit how large the"
                " paper around it looks: please measure it again.",
            )
        ]
    return []
