"""What else the object may be: the usual neighbours of a stated size.

People mix up Letter and A4, read 24 for 26 on a tyre, take a door for the usual one, and
print a page to fit. Each neighbour is the same points with another size, and a prior: how
many of those who say this really have that (judgement, no source).
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from pose_fit.bicycle.tyre import class_of_bead_seat
from pose_fit.metrology.units import MM_PER_INCH, both_units
from pose_fit.reference.find_sheet import LOG_SCALE_SD_UNMEASURED
from pose_fit.reference.from_points import DOOR_HEIGHTS_MM, rectangle_mm
from pose_fit.reference.paper import PAPER_SIZE_MM, Paper
from pose_fit.reference.printed_sheet import RULER_MM
from pose_fit.reference.reference import CircleReference, PointReference, Reference
from pose_fit.reference.request import ReferenceRequest

__all__ = ["BEAD_SEATS_MM", "SizeHypothesis", "size_hypotheses"]

#: Odds of a neighbour where the stated size has 1.
PAPER_ODDS: Final = 0.05
DOOR_ODDS: Final = 0.05
WHEEL_CLASS_ODDS: Final = 0.05
WHEEL_WIDTH_ODDS: Final = 0.03
#: Pages "fitted" by a printer, where neither ruler nor paper edges tell: scale and odds.
PRINT_ODDS: Final = ((0.97, 0.12), (0.94, 0.08))
_Format = tuple[Paper, tuple[float, float], str, float]
#: The two papers that everybody has.
_USUAL: Final[tuple[_Format, ...]] = (
    ("letter", PAPER_SIZE_MM["letter"], "Letter", 1.0),
    ("a4", PAPER_SIZE_MM["a4"], "A4", 1.0),
)
#: Other papers that are called by those names or hang in their place. Some have the very shape of
#: Letter or A4, so that only the person tells them apart.
_RARER: Final[tuple[_Format, ...]] = (
    ("letter", (215.9, 355.6), "Legal", 0.03),
    ("letter", (139.7, 215.9), "half Letter", 0.03),
    ("letter", (279.4, 431.8), "Tabloid", 0.03),
    ("a4", (297.0, 420.0), "A3", 0.05),
    ("a4", (148.5, 210.0), "A5", 0.05),
    ("a4", (105.0, 148.5), "A6", 0.01),
    ("a4", (176.0, 250.0), "B5", 0.02),
)
#: Papers of one series differ in shape by rounding alone.
_SAME_SHAPE: Final = 0.005
#: Doors further from the stated height are not mixed up with it.
_DOOR_REACH: Final = 0.08
#: Bead seats of the wheel classes that children ride: 12, 14, 16, 18, 20, 24, 26, 27.5 and 28 in.
BEAD_SEATS_MM: Final = (203.0, 254.0, 305.0, 355.0, 406.0, 507.0, 559.0, 584.0, 622.0)
#: A tyre one or two sizes wider or narrower on the same rim.
_WIDTH_STEP_MM: Final = 10.0


@dataclass(frozen=True, slots=True, eq=False)
class SizeHypothesis:
    """One size that the object may have.

    Attributes
    ----------
    reference
        The points with this size.
    odds
        Before the picture is looked at; the stated size has 1.
    name
        The object and its size, for people.
    tell
        How somebody beside the object tells that it is this one.
    """

    reference: Reference
    odds: float
    name: str
    tell: str

    def times(self, other: "SizeHypothesis") -> float | None:
        """How much larger it is than another one of its shape; None where the shapes differ."""
        one, two = self.reference, other.reference
        if isinstance(one, CircleReference) and isinstance(two, CircleReference):
            return one.radius_mm / two.radius_mm
        assert isinstance(one, PointReference)
        assert isinstance(two, PointReference)
        ratios = np.ptp(one.object_mm, axis=0) / np.maximum(np.ptp(two.object_mm, axis=0), 1e-9)
        ratios = ratios[np.ptp(two.object_mm, axis=0) > 0]
        return float(ratios.mean()) if np.ptp(ratios) < _SAME_SHAPE * ratios.mean() else None


def size_hypotheses(
    reference: Reference, request: ReferenceRequest, *, by_itself: bool = False
) -> tuple[SizeHypothesis, ...]:
    """The stated size first, then its neighbours; all formats of a paper that nobody named."""
    match reference.kind:
        case "letter" | "a4":
            assert isinstance(reference, PointReference)
            return tuple(_any_papers(reference) if by_itself else _papers(reference))
        case "door":
            assert isinstance(reference, PointReference)
            return tuple(_doors(reference, stated_mm=request.size_mm))
        case "wheel":
            assert isinstance(reference, CircleReference)
            return tuple(_wheels(reference))
        case "sheet":
            assert isinstance(reference, PointReference)
            return tuple(_prints(reference))
    return (SizeHypothesis(reference, 1.0, f"a {reference.kind}", ""),)


def _papers(stated: PointReference) -> Iterator[SizeHypothesis]:
    for paper, size_mm, name, _ in sorted(_USUAL, key=lambda one: one[0] != stated.kind):
        odds = 1.0 if paper == stated.kind else PAPER_ODDS
        yield _paper(stated, paper, size_mm, name, odds)
    for paper, size_mm, name, odds in _RARER:
        yield _paper(stated, paper, size_mm, name, odds)


def _any_papers(found: PointReference) -> Iterator[SizeHypothesis]:
    for paper, size_mm, name, odds in (*_USUAL, *_RARER):
        yield _paper(found, paper, size_mm, name, odds)


def _paper(
    like: PointReference, paper: Paper, size_mm: tuple[float, float], name: str, odds: float
) -> SizeHypothesis:
    width_mm, height_mm = np.ptp(like.object_mm, axis=0)
    short_mm, long_mm = size_mm
    sides_mm = (short_mm, long_mm) if height_mm > width_mm else (long_mm, short_mm)
    return SizeHypothesis(
        replace(like, kind=paper, object_mm=rectangle_mm(*sides_mm)),
        odds,
        name,
        f"the paper’s short side is {both_units(short_mm)}, like {name}’s",
    )


def _doors(stated: PointReference, *, stated_mm: float | None) -> Iterator[SizeHypothesis]:
    height_mm = float(np.ptp(stated.object_mm[:, 1]))
    usual = {one.height_mm: one.share for one in DOOR_HEIGHTS_MM}
    others = {
        other_mm: DOOR_ODDS if stated_mm is not None else share / usual[height_mm]
        for other_mm, share in usual.items()
        if 3.0 < abs(other_mm - height_mm) < _DOOR_REACH * height_mm
    }
    for one_mm, odds in ((height_mm, 1.0), *others.items()):
        yield _resized(
            stated,
            one_mm / height_mm,
            odds,
            f"a door of {both_units(one_mm)}",
            f"the door’s leaf is {both_units(one_mm)} high",
        )


def _wheels(stated: CircleReference) -> Iterator[SizeHypothesis]:
    width_mm = stated.width_mm
    seat_mm = 2 * (stated.radius_mm - width_mm)
    sizes = [(seat_mm, width_mm, 1.0)]
    sizes += [
        (seat_mm, other_mm, WHEEL_WIDTH_ODDS)
        for other_mm in (width_mm - _WIDTH_STEP_MM, width_mm + _WIDTH_STEP_MM)
        if 20.0 <= other_mm <= 65.0
    ]
    smaller = [one for one in BEAD_SEATS_MM if one < seat_mm - 3]
    larger = [one for one in BEAD_SEATS_MM if one > seat_mm + 3]
    sizes += [(other_mm, width_mm, WHEEL_CLASS_ODDS) for other_mm in (*smaller[-1:], *larger[:1])]
    for one_seat_mm, one_width_mm, odds in sizes:
        code = f"{one_width_mm:.0f}-{one_seat_mm:.0f}"
        factor = (one_seat_mm + 2 * one_width_mm) / (seat_mm + 2 * width_mm)
        yield SizeHypothesis(
            replace(stated, radius_mm=stated.radius_mm * factor, width_mm=one_width_mm),
            odds,
            f"{_wheel_name(one_seat_mm)} ({code})",
            f"the tyre’s side says {code}, or near {_in_inches(one_seat_mm, one_width_mm)}",
        )


def _wheel_name(seat_mm: float) -> str:
    wheel_in = f"{class_of_bead_seat(seat_mm):g}"
    return f"{'an' if wheel_in == '18' else 'a'} {wheel_in} in wheel"


def _in_inches(seat_mm: float, width_mm: float) -> str:
    """The other marking of tyres, whose first number is the wheel: 20 x 1.85."""
    return f"{class_of_bead_seat(seat_mm):g} x {width_mm / MM_PER_INCH:.1f}"


def _prints(stated: PointReference) -> Iterator[SizeHypothesis]:
    scales: tuple[tuple[float, float], ...] = ((1.0, 1.0),)
    if stated.log_size_sd >= LOG_SCALE_SD_UNMEASURED:
        scales += PRINT_ODDS
    for scale, odds in scales:
        name = (
            "the sheet at full size"
            if scale == 1.0
            else f"the sheet printed at {100 * scale:.0f} %"
        )
        yield _resized(
            stated, scale, odds, name, f"the sheet’s ruler measures {RULER_MM * scale:.0f} mm"
        )


def _resized(
    stated: PointReference, factor: float, odds: float, name: str, tell: str
) -> SizeHypothesis:
    reference = replace(stated, object_mm=stated.object_mm * factor)
    return SizeHypothesis(reference, odds, name, tell)
