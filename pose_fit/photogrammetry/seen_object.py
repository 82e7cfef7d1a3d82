"""The object with its plane, and every size it may have: what a photo is measured by."""

from dataclasses import dataclass
from typing import Final

from pose_fit.photo.camera_prior import CameraPrior
from pose_fit.photogrammetry.plane import PlaneScale, log_camera_height, solve_plane
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.reference.find_object import FoundObject
from pose_fit.reference.reference import Reference
from pose_fit.reference.size_hypotheses import SizeHypothesis, size_hypotheses

__all__ = ["SeenObject", "SizedPlane", "see_object"]

#: A book's label stands this far before the legs' own plane: half a thigh and what the book
#: stands out (judgement).
BOOK_BEFORE_LEGS_MM: Final = 100.0


@dataclass(frozen=True, slots=True, eq=False)
class SizedPlane:
    """One size of the object and the plane by it.

    Attributes
    ----------
    factor
        How much larger everything is than by the first size; None where the shape differs, so
        that the plane had to be solved anew.
    log_evidence
        How well it explains points, camera and view; see `PlaneScale`.
    """

    hypothesis: SizeHypothesis
    plane: PlaneScale
    factor: float | None
    log_evidence: float


@dataclass(frozen=True, slots=True, eq=False)
class SeenObject:
    """All sizes the object may have: the stated one first, or the likeliest of one nobody named."""

    sizes: tuple[SizedPlane, ...]

    @property
    def reference(self) -> Reference:
        """The object as it is measured by."""
        return self.sizes[0].hypothesis.reference

    @property
    def plane(self) -> PlaneScale:
        """Its plane."""
        return self.sizes[0].plane

    @property
    def is_beside(self) -> bool:
        """Whether it stands in the legs' own plane."""
        return self.reference.placement == "beside"


def see_object(found: FoundObject, camera: CameraPrior, stance: Stance) -> SeenObject:
    """Solve the plane of every shape; sizes of one shape share one."""
    hypotheses = size_hypotheses(found.reference, found.request, by_itself=found.by_itself)
    planes: list[tuple[SizeHypothesis, PlaneScale]] = []
    for hypothesis in hypotheses:
        if all(hypothesis.times(other) is None for other, _ in planes):
            planes.append((hypothesis, _solved(hypothesis.reference, camera, stance)))
    if found.by_itself:
        # Nobody said which it is: the shape that explains its corners best stands first.
        planes.sort(key=lambda one: -one[1].log_evidence)
    first, _ = planes[0]
    others = sorted(hypotheses, key=lambda one: one is not first)
    return SeenObject(tuple(_sized(one, planes, first, stance) for one in others))


def _sized(
    hypothesis: SizeHypothesis,
    planes: list[tuple[SizeHypothesis, PlaneScale]],
    first: SizeHypothesis,
    stance: Stance,
) -> SizedPlane:
    for solved, plane in planes:
        times = hypothesis.times(solved)
        if times is not None:
            larger = plane.scaled(times)
            # A larger object of the same shape only puts the camera higher up.
            higher = log_camera_height(larger, stance) - log_camera_height(plane, stance)
            factor = hypothesis.times(first)
            return SizedPlane(hypothesis, larger, factor, plane.log_evidence + higher)
    raise AssertionError("every shape has a plane")


def _solved(reference: Reference, camera: CameraPrior, stance: Stance) -> PlaneScale:
    plane = solve_plane(reference, camera, stance=stance)
    return plane.moved_back(BOOK_BEFORE_LEGS_MM) if reference.kind == "book" else plane
