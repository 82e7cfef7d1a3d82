"""The little SVG the drawings need: shapes in millimetres with y up, text, a page around them."""

import math
import zlib
from html import escape
from typing import Final

from pose_fit.drawing.colours import INK
from pose_fit.metrology.units import MM_PER_INCH

__all__ = ["SCALE_MM", "Page", "Point", "taper"]

#: Length of the scale bar.
SCALE_MM: Final = 10 * MM_PER_INCH

Point = tuple[float, float]


class Page:
    """Collects shapes given in millimetres, x right and y up, and writes one SVG text.

    Parameters
    ----------
    left_mm, right_mm, bottom_mm, top_mm
        What the picture shows.
    """

    def __init__(self, *, left_mm: float, right_mm: float, bottom_mm: float, top_mm: float) -> None:
        self.left_mm, self.right_mm = left_mm, right_mm
        self.bottom_mm, self.top_mm = bottom_mm, top_mm
        self._parts: list[str] = []

    @property
    def unit(self) -> float:
        """Millimetres of a text unit: texts keep their size against the picture's width."""
        return (self.right_mm - self.left_mm) / 1500

    def _xy(self, point: Point) -> str:
        return f"{point[0] - self.left_mm:.1f},{self.top_mm - point[1]:.1f}"

    def polyline(self, points: list[Point], *, stroke: str, width: float, dash: str = "") -> None:
        """Stroked line with round ends and joins."""
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        self._parts.append(
            f'<polyline points="{" ".join(map(self._xy, points))}" fill="none" stroke="{stroke}"'
            f' stroke-width="{width:g}" stroke-linecap="round" stroke-linejoin="round"{dashes}/>'
        )

    def curve(self, points: list[Point], *, stroke: str, width: float) -> None:
        """Stroked quadratic curve through start, control point and end."""
        start, control, end = map(self._xy, points)
        self._parts.append(
            f'<path d="M{start} Q{control} {end}" fill="none" stroke="{stroke}"'
            f' stroke-width="{width:g}" stroke-linecap="round"/>'
        )

    def shape(self, commands: list[str | Point], *, fill: str, stroke: str = "none") -> None:
        """Filled path; points are in millimetres, texts are path commands."""
        path = " ".join(part if isinstance(part, str) else self._xy(part) for part in commands)
        self._parts.append(
            f'<path d="{path}" fill="{fill}" stroke="{stroke}" stroke-width="4"'
            ' stroke-linejoin="round"/>'
        )

    def circle(
        self,
        centre: Point,
        radius_mm: float,
        *,
        fill: str = "none",
        stroke: str = "none",
        width: float = 0,
    ) -> None:
        """Circle."""
        x, y = self._xy(centre).split(",")
        self._parts.append(
            f'<circle cx="{x}" cy="{y}" r="{radius_mm:.1f}" fill="{fill}" stroke="{stroke}"'
            f' stroke-width="{width:g}"/>'
        )

    def box(
        self,
        left_top: Point,
        width_mm: float,
        height_mm: float,
        *,
        fill: str,
        stroke: str = "none",
        radius: float = 0,
    ) -> None:
        """Rectangle hanging from its upper left corner."""
        x, y = self._xy(left_top).split(",")
        self._parts.append(
            f'<rect x="{x}" y="{y}" width="{max(width_mm, 0):.1f}" height="{max(height_mm, 0):.1f}"'
            f' rx="{radius:g}" fill="{fill}" stroke="{stroke}" stroke-width="3"/>'
        )

    def text(
        self,
        at: Point,
        text: str,
        *,
        size: float,
        fill: str = INK,
        anchor: str = "start",
        bold: bool = False,
    ) -> None:
        """Text with a pale halo, so that it reads over lines; ``size`` in text units."""
        size *= self.unit
        x, y = self._xy(at).split(",")
        weight = ' font-weight="600"' if bold else ""
        self._parts.append(
            f'<text x="{x}" y="{y}" font-size="{size:.1f}" fill="{fill}" text-anchor="{anchor}"'
            f'{weight} stroke="#fbfaf7" stroke-width="{size / 5:.1f}" stroke-linejoin="round"'
            f' paint-order="stroke">{escape(text)}</text>'
        )

    def badge(self, centre: Point, letter: str) -> None:
        """A letter in a circle, to be explained in words elsewhere."""
        self.circle(centre, 27 * self.unit, fill=INK)
        x, y = self._xy((centre[0], centre[1] - 13 * self.unit)).split(",")
        self._parts.append(
            f'<text x="{x}" y="{y}" font-size="{36 * self.unit:.1f}" fill="#ffffff"'
            f' text-anchor="middle" font-weight="600">{escape(letter)}</text>'
        )

    def dimension(self, start: Point, end: Point, *, stroke: str) -> None:
        """Line between two points with a bar across each end."""
        run, rise = end[0] - start[0], end[1] - start[1]
        length = math.hypot(run, rise) or 1.0
        across = -rise / length * 16, run / length * 16
        for point in (start, end):
            self.polyline(
                [
                    (point[0] - across[0], point[1] - across[1]),
                    (point[0] + across[0], point[1] + across[1]),
                ],
                stroke=stroke,
                width=5,
            )
        self.polyline([start, end], stroke=stroke, width=5)

    def svg(self, *, title: str, description: str) -> str:
        """The whole picture, with a title and a description for those who cannot see it."""
        width_mm, height_mm = self.right_mm - self.left_mm, self.top_mm - self.bottom_mm
        body = "\n".join(self._parts)
        # Several pictures can share one page of HTML, so their ids must differ.
        mark = f"{zlib.crc32((title + description + body).encode()):08x}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width_mm:.0f} {height_mm:.0f}"'
            f' width="100%" role="img" aria-labelledby="t{mark} d{mark}"'
            ' font-family="Verdana, DejaVu Sans, sans-serif">\n'
            f'<title id="t{mark}">{escape(title)}</title>\n'
            f'<desc id="d{mark}">{escape(description)}</desc>\n'
            f'<rect width="100%" height="100%" rx="24" fill="#fbfaf7"/>\n{body}\n</svg>\n'
        )


def taper(start: Point, end: Point, start_radius: float, end_radius: float) -> list[str | Point]:
    """Path of a limb: two round ends of different radius and straight sides."""
    run, rise = end[0] - start[0], end[1] - start[1]
    length = math.hypot(run, rise) or 1.0
    across = -rise / length, run / length

    def beside(point: Point, offset: float) -> Point:
        return point[0] + across[0] * offset, point[1] + across[1] * offset

    return [
        "M",
        beside(start, start_radius),
        "L",
        beside(end, end_radius),
        f"A{end_radius:.1f} {end_radius:.1f} 0 0 1",
        beside(end, -end_radius),
        "L",
        beside(start, -start_radius),
        f"A{start_radius:.1f} {start_radius:.1f} 0 0 1",
        beside(start, start_radius),
        "Z",
    ]
