"""The object of known size as a visitor described it, for every picture it is in."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from pose_fit.reference.reference import Placement, ReferenceKind
from pose_fit.reference.request import ReferenceRequest

__all__ = ["FOUND_BY_ITSELF", "LEAST_POINTS", "ObjectOfKnownSize"]

#: How many points mark such an object; the printed sheet has none for a hand.
LEAST_POINTS: Final[dict[ReferenceKind, int]] = {
    "letter": 4,
    "a4": 4,
    "door": 4,
    "wheel": 5,
    "length": 2,
}
#: Found without help; points are for when that fails.
FOUND_BY_ITSELF: Final[frozenset[ReferenceKind]] = frozenset(
    {"auto", "sheet", "letter", "a4", "wheel"}
)


@dataclass(frozen=True, slots=True)
class ObjectOfKnownSize:
    """Kind, size and place of the object; ``by_hand`` where somebody marks it in the picture."""

    kind: ReferenceKind
    size_mm: float | None = None
    tyre_width_mm: float | None = None
    placement: Placement | None = None
    ruler_mm: float | None = None
    by_hand: bool = False

    def request(self, points_px: Sequence[tuple[float, float]] | None) -> ReferenceRequest:
        """The library's request for one picture.

        Raises
        ------
        ReferenceObjectError
            A size that cannot be, or points that are missing.
        """
        return ReferenceRequest(
            kind=self.kind,
            size_mm=self.size_mm,
            width_mm=self.tyre_width_mm,
            points_px=None if points_px is None else tuple(points_px),
            placement=self.placement,
            ruler_mm=self.ruler_mm,
        )

    @property
    def least_points(self) -> int:
        """How many points each picture needs."""
        return LEAST_POINTS[self.kind] if self.by_hand else 0
