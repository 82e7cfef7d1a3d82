"""The object of known size: the one that was named, or whatever of them hangs or stands there.

Where nothing is named the printed sheet is looked for first, by its markers; then a sheet of
paper, a wheel, and the label on a book. A wheel's size cannot be seen, so that one alone is a
question for the code on its tyre. With no object at all a known body height serves.
"""

from dataclasses import dataclass, replace
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_paper import find_paper_corners
from pose_fit.reference.find_reference import find_reference
from pose_fit.reference.find_wheel import find_tyre_points
from pose_fit.reference.from_points import paper_reference
from pose_fit.reference.reference import Reference, ReferenceKind
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal

__all__ = ["FoundObject", "find_object"]

#: Nothing of that kind is there; any other refusal says that something is, and what is wrong.
_NOT_THERE: Final = frozenset({"reference_missing", "paper_unsure", "crown_hidden"})
#: Wheels of 12 to 28 in: outside diameter and width, so that their ranges of search overlap.
_ANY_WHEEL_MM: Final = ((330.0, 45.0), (560.0, 47.0))
_REMEDY: Final = (
    "Hang the printed sheet or a plain sheet of paper beside the legs, stand a wheel beside the"
    " child, or give the child’s height."
)


@dataclass(frozen=True, slots=True, eq=False)
class FoundObject:
    """The object in the picture, as what it is measured, and whether nobody named it."""

    reference: Reference
    request: ReferenceRequest
    by_itself: bool


def find_object(
    photo: Photo,
    body: Body,
    request: ReferenceRequest,
    *,
    child: Child,
    soles_mm: float | None = None,
) -> FoundObject | Refusal:
    """The named object, or the one that is found; a refusal where there is none or its size is open.

    Raises
    ------
    ReferenceObjectError
        As `find_reference`.
    """
    if request.kind != "auto":
        named = find_reference(photo, body, request, child=child, soles_mm=soles_mm)
        return named if isinstance(named, Refusal) else FoundObject(named, request, False)

    def tried(kind: ReferenceKind) -> FoundObject | Refusal:
        ruler_mm = request.ruler_mm if kind == "sheet" else None
        asked = replace(request, kind=kind, placement=None, ruler_mm=ruler_mm)
        found = find_reference(photo, body, asked, child=child, soles_mm=soles_mm)
        return found if isinstance(found, Refusal) else FoundObject(found, asked, True)

    sheet = tried("sheet")
    if not _is_not_there(sheet):
        return sheet
    paper = _paper(photo, body, request)
    if not _is_not_there(paper):
        return paper
    if _shows_wheel(photo, body):
        return _WHOSE_SIZE_IS_OPEN
    kinds: tuple[ReferenceKind, ...] = ("book",) if child.stature_mm is None else ("book", "height")
    for kind in kinds:
        found = tried(kind)
        if not _is_not_there(found):
            return found
    return _NOTHING


def _is_not_there(found: FoundObject | Refusal) -> bool:
    return isinstance(found, Refusal) and {one.code for one in found.reasons} <= _NOT_THERE


def _paper(photo: Photo, body: Body, request: ReferenceRequest) -> FoundObject | Refusal:
    """A sheet of any usual format; which one is weighed later, with everything else."""
    # A4's shape lies between Letter's and Legal's, so that one search finds them all.
    corners_px = find_paper_corners(photo, body, paper="a4")
    if isinstance(corners_px, Refusal):
        return corners_px
    reference = paper_reference(photo, corners_px, paper="a4", placement="wall", found=True)
    return FoundObject(
        reference, replace(request, kind="a4", placement="wall", ruler_mm=None), True
    )


def _shows_wheel(photo: Photo, body: Body) -> bool:
    return any(
        not isinstance(
            find_tyre_points(photo, body, diameter_mm=diameter_mm, width_mm=width_mm), Refusal
        )
        for diameter_mm, width_mm in _ANY_WHEEL_MM
    )


_WHOSE_SIZE_IS_OPEN: Final = Refusal.because(
    "tyre_code_wanted",
    "A wheel stands beside the child, but a picture does not show how large it is.",
    "Read the code on the tyre’s side, such as 47-507.",
    asks=("size",),
)
_NOTHING: Final = Refusal.because(
    "reference_none", "No printed sheet, sheet of paper or wheel was found in the picture.", _REMEDY
)
