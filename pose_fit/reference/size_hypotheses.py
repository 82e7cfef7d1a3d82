"""What else the object may be: the usual neighbours of a stated size.

People mix up Letter and A4, read 24 for 26 on a tyre, take a door for the usual one, and
print a page to fit. Each neighbour is the same points with another size, and a prior: how
many of those who say this really have that (judgement, no source).
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from pose_fit.metrology.units import both_units
from pose_fit.reference.find_sheet import LOG_SCALE_SD_UNMEASURED
from pose_fit.reference.from_points import DOOR_HEIGHTS_MM, rectangle_mm
from pose_fit.reference.reference import CircleReference, PointReference, Reference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.reference.sheet import PAPER_SIZE_MM, RULER_MM, Paper

__all__ = ["SizeHypothesis", "size_hypotheses"]

#: Odds of a neighbour where the stated size has 1.
PAPER_ODDS: Final = 0.05
DOOR_ODDS: Final = 0.03
WHEEL_CLASS_ODDS: Final = 0.03
WHEEL_WIDTH_ODDS: Final = 0.03
#: Pages "fitted" by a printer, where neither ruler nor paper edges tell: scale and odds.
PRINT_ODDS: Final = ((0.97, 0.12), (0.94, 0.08))
#: Doors further from the stated height are not mixed up with it.
_DOOR_REACH: Final = 0.08
#: Bead seats of the wheel classes that children ride: 12, 14, 16, 18, 20, 24, 26, 27.5 and 28 in.
_BEAD_SEATS_MM: Final = (203.0, 254.0, 305.0, 355.0, 406.0, 507.0, 559.0, 584.0, 622.0)
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
    factor
        How much larger it is than the stated one, where it has the same shape; None where
        its shape differs, so that its plane is another.
    """

    reference: Reference
    odds: float
    name: str
    tell: str
    factor: float | None = None


def size_hypotheses(reference: Reference, request: ReferenceRequest) -> tuple[SizeHypothesis, ...]:
    """The stated size first, then its neighbours."""
    match reference.kind:
        case "letter" | "a4":
            assert isinstance(reference, PointReference)
            return tuple(_papers(reference))
        case "door":
            assert isinstance(reference, PointReference)
            return tuple(_doors(reference, stated_mm=request.size_mm))
        case "wheel":
            assert isinstance(reference, CircleReference)
            return tuple(_wheels(reference))
        case "sheet":
            assert isinstance(reference, PointReference)
            return tuple(_prints(reference))
    return (SizeHypothesis(reference, 1.0, f"a {reference.kind}", "", 1.0),)


def _papers(stated: PointReference) -> Iterator[SizeHypothesis]:
    width_mm, height_mm = np.ptp(stated.object_mm, axis=0)
    papers: tuple[Paper, Paper] = ("letter", "a4")
    for paper in sorted(papers, key=lambda one: one != stated.kind):
        short_mm, long_mm = PAPER_SIZE_MM[paper]
        size_mm = (short_mm, long_mm) if height_mm > width_mm else (long_mm, short_mm)
        name = {"letter": "Letter", "a4": "A4"}[paper]
        yield SizeHypothesis(
            replace(stated, kind=paper, object_mm=rectangle_mm(*size_mm)),
            1.0 if paper == stated.kind else PAPER_ODDS,
            name,
            f"{name}’s short side is {both_units(short_mm)}",
            1.0 if paper == stated.kind else None,
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
            f"its leaf is {both_units(one_mm)} high",
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
    smaller = [one for one in _BEAD_SEATS_MM if one < seat_mm - 3]
    larger = [one for one in _BEAD_SEATS_MM if one > seat_mm + 3]
    sizes += [(other_mm, width_mm, WHEEL_CLASS_ODDS) for other_mm in (*smaller[-1:], *larger[:1])]
    for one_seat_mm, one_width_mm, odds in sizes:
        code = f"{one_width_mm:.0f}-{one_seat_mm:.0f}"
        factor = (one_seat_mm + 2 * one_width_mm) / (seat_mm + 2 * width_mm)
        yield SizeHypothesis(
            replace(stated, radius_mm=stated.radius_mm * factor, width_mm=one_width_mm),
            odds,
            f"a tyre of {code}",
            f"the tyre’s side says {code}",
            factor,
        )


def _prints(stated: PointReference) -> Iterator[SizeHypothesis]:
    scales: tuple[tuple[float, float], ...] = ((1.0, 1.0),)
    if stated.log_size_sd >= LOG_SCALE_SD_UNMEASURED:
        scales += PRINT_ODDS
    for scale, odds in scales:
        name = "the sheet" if scale == 1.0 else f"the sheet printed at {100 * scale:.0f} %"
        yield _resized(
            stated, scale, odds, name, f"the sheet’s ruler measures {RULER_MM * scale:.0f} mm"
        )


def _resized(
    stated: PointReference, factor: float, odds: float, name: str, tell: str
) -> SizeHypothesis:
    reference = replace(stated, object_mm=stated.object_mm * factor)
    return SizeHypothesis(reference, odds, name, tell, factor)
