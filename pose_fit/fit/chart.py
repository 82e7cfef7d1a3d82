"""A size chart of a whole catalogue: inseams each bicycle fits, from its own geometry."""

import csv
import io
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.csv_table import safe_cell
from pose_fit.fit.fleet import Fleet
from pose_fit.fit.judge import Changes, changes_of
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.svg import Page
from pose_fit.fit.thresholds import thresholds
from pose_fit.inseam.inseam import Inseam
from pose_fit.units import MM_PER_INCH, both_units

__all__ = ["CAREFUL_TAPE_SD_MM", "ChartRow", "chart_csv", "chart_svg", "size_chart"]

#: A chart is read with a tape measure at hand: standard uncertainty of several careful readings
#: (common practice, no source).
CAREFUL_TAPE_SD_MM: Final = 5.0


@dataclass(frozen=True, slots=True)
class ChartRow:
    """One bicycle's line of the chart, inseams in millimetres.

    Attributes
    ----------
    name, tyre
        As in the catalogue.
    changes
        Inseams at which the verdict changes.
    from_mm
        Inseam, read with a careful tape, from which it is recommended.
    until_mm
        Inseam at which it is outgrown, infinite where nothing is known.
    """

    name: str
    tyre: str
    changes: Changes
    from_mm: float
    until_mm: float

    @property
    def fits_anybody(self) -> bool:
        """Whether there is an inseam at which it is recommended."""
        return self.changes.judged and self.from_mm < self.until_mm


def size_chart(
    bicycles: Sequence[Bicycle], *, rider: Rider | None = None, policy: Policy | None = None
) -> tuple[ChartRow, ...]:
    """Lines of the chart, smallest bicycle first."""
    rider, policy = rider or Rider(), policy or Policy()
    rows = []
    known = changes_of(thresholds(Fleet.of(bicycles), rider=rider, policy=policy))
    for bicycle, changes in zip(bicycles, known, strict=True):
        from_mm = changes.recommended_from_mm(sd_mm=CAREFUL_TAPE_SD_MM, policy=policy)
        rows.append(
            ChartRow(bicycle.name, bicycle.tyre.marking, changes, from_mm, changes.cramped_from_mm)
        )
    return tuple(sorted(rows, key=lambda row: (row.from_mm, row.until_mm)))


def chart_csv(rows: Sequence[ChartRow]) -> str:
    """The chart as CSV text, in millimetres and inches.

    A name that a spreadsheet would run as a formula is written with an apostrophe before it.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    lengths = ("contact_below", "good_from", "recommended_from", "roomy_from", "outgrown_from")
    units = [f"{name}_{unit}" for name in lengths for unit in ("mm", "in")]
    writer.writerow(["name", "tyre", "judged", *units])
    for row in rows:
        changes = row.changes
        inseams_mm = (
            changes.contact_below_mm,
            changes.good_from_mm,
            row.from_mm,
            changes.roomy_from_mm,
            row.until_mm,
        )
        cells = [
            cell
            for inseam_mm in inseams_mm
            for cell in (_cell(inseam_mm, 0), _cell(inseam_mm / MM_PER_INCH, 1))
        ]
        judged = "yes" if changes.judged else "no"
        writer.writerow([safe_cell(row.name), safe_cell(row.tyre), judged, *cells])
    return text.getvalue()


def _cell(value: float, digits: int) -> str:
    return f"{value:.{digits}f}" if math.isfinite(value) else ""


_ROW: Final = 62.0
_LEFT: Final = 420.0
_RIGHT: Final = 1450.0
_INK: Final = "#25303b"
_QUIET: Final = "#6b7783"


def chart_svg(rows: Sequence[ChartRow], *, inseam: Inseam | None = None) -> str:
    """The chart as a picture; with an inseam, where this child stands in it.

    Raises
    ------
    ValueError
        No rows.
    """
    if not rows:
        raise ValueError("chart_svg: wanted at least one row, found none")
    lowest_mm, highest_mm = _range_mm(rows, inseam)

    def at(inseam_mm: float) -> float:
        share = (min(inseam_mm, highest_mm) - lowest_mm) / (highest_mm - lowest_mm)
        return _LEFT + max(share, 0.0) * (_RIGHT - _LEFT)

    page = Page(left_mm=0, right_mm=1500, bottom_mm=-_ROW * len(rows) - 190, top_mm=200)
    page.text((40, 126), "Inseam each bicycle fits", size=48, bold=True)
    floor = -_ROW * len(rows)
    _axis(page, lowest_mm, highest_mm, floor, at)
    if inseam is not None:
        low_mm, high_mm = inseam.interval95_mm
        page.box((at(low_mm), 0), at(high_mm) - at(low_mm), -floor, fill="#d95f43", opacity=0.18)
        page.polyline([(at(inseam.mean_mm), 0), (at(inseam.mean_mm), floor)], stroke="#d95f43", width=5)  # fmt: skip
        page.text(
            (_RIGHT, 126), f"this child {both_units(inseam.mean_mm)}", size=34, anchor="end",
            fill="#a83a20", bold=True,
        )  # fmt: skip
    for place, row in enumerate(rows):
        _bar(page, row, -_ROW * place, at)
    _key(page, floor - 120)
    lines = "; ".join(f"{row.name} {_range_text(row)}" for row in rows)
    return page.svg(title="Inseam each bicycle fits", description=f"{lines}.")


def _range_mm(rows: Sequence[ChartRow], inseam: Inseam | None) -> tuple[float, float]:
    ends = [row.until_mm for row in rows if math.isfinite(row.until_mm)]
    ends += [row.changes.good_from_mm + 100 for row in rows]
    starts = [row.changes.contact_below_mm for row in rows]
    if inseam is not None:
        starts.append(inseam.interval95_mm[0])
        ends.append(inseam.interval95_mm[1])
    inch = MM_PER_INCH
    return (math.floor(min(starts) / inch) - 1) * inch, (math.ceil(max(ends) / inch) + 1) * inch


def _axis(
    page: Page, lowest_mm: float, highest_mm: float, floor: float, at: Callable[[float], float]
) -> None:
    for inch in range(round(lowest_mm / MM_PER_INCH), round(highest_mm / MM_PER_INCH) + 1, 2):
        x = at(inch * MM_PER_INCH)
        page.polyline([(x, 20), (x, floor)], stroke="#e3e5e6", width=2)
        page.text((x, 34), f"{inch}", size=28, fill=_QUIET, anchor="middle")
    page.text((_LEFT - 30, 34), "inches", size=28, fill=_QUIET, anchor="end")
    for centimetre in range(math.ceil(lowest_mm / 50) * 5, math.floor(highest_mm / 10) + 1, 5):
        x = at(centimetre * 10)
        page.polyline([(x, floor), (x, floor - 10)], stroke=_QUIET, width=2)
        page.text((x, floor - 42), f"{centimetre}", size=28, fill=_QUIET, anchor="middle")
    page.text((_LEFT - 30, floor - 42), "centimetres", size=28, fill=_QUIET, anchor="end")


def _bar(page: Page, row: ChartRow, top: float, at: Callable[[float], float]) -> None:
    page.text((_LEFT - 30, top - 42), row.name, size=32, anchor="end")
    changes, height = row.changes, _ROW - 22
    upper = top - 11
    clear_x, from_x, until_x = at(changes.contact_below_mm), at(row.from_mm), at(row.until_mm)
    if not row.fits_anybody:
        page.text((clear_x, top - 42), "not judged: saddle heights missing", size=26, fill=_QUIET)
        return
    page.box((clear_x, upper), from_x - clear_x, height, fill="#fbfaf7", stroke="#a35a00", dash="9 7")  # fmt: skip
    page.box((from_x, upper), until_x - from_x, height, fill="#cfe3d6", stroke="#1b6e3c")
    roomy_x = min(max(at(changes.roomy_from_mm), from_x), until_x)
    page.box((from_x, upper), roomy_x - from_x, height, fill="#8fc3a3", stroke="#1b6e3c")
    beside = (until_x + 14, "start") if until_x < _LEFT + 700 else (clear_x - 14, "end")
    page.text((beside[0], top - 40), _range_text(row), size=25, anchor=beside[1])


def _range_text(row: ChartRow) -> str:
    """Both ends in inches and centimetres."""
    if not row.fits_anybody:
        return "not judged"
    if math.isinf(row.until_mm):
        return f"from {both_units(row.from_mm)}"
    return (
        f"{row.from_mm / MM_PER_INCH:.1f}-{row.until_mm / MM_PER_INCH:.1f} in"
        f" ({row.from_mm / 10:.1f}-{row.until_mm / 10:.1f} cm)"
    )


def _key(page: Page, y: float) -> None:
    samples = (
        (40.0, "#fbfaf7", "#a35a00", "9 7", "off the bar, too tight to recommend"),
        (620.0, "#8fc3a3", "#1b6e3c", "", "fits"),
        (780.0, "#cfe3d6", "#1b6e3c", "", "fits with room, until outgrown"),
    )
    for x, fill, stroke, dash, text in samples:
        page.box((x, y + 26), 44, 32, fill=fill, stroke=stroke, dash=dash)
        page.text((x + 58, y), text, size=28, fill=_QUIET)
