"""The report's plots, from finished numbers."""

import io
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Final

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from PIL import Image
from scipy.special import ndtri

from calibration.score.analysis import Analysis
from calibration.score.decisions import Decision
from calibration.score.groups import GROUPINGS, groups_by
from calibration.score.several_photos import ByCount
from calibration.score.sources import SourceErrors
from calibration.scored import Scored

__all__ = ["draw_plots"]

#: Colours that stay apart for the colour-blind (Okabe and Ito 2008), and markers beside them.
_KINDS: Final = {
    "sheet": ("#0072B2", "o"),
    "letter": ("#E69F00", "s"),
    "a4": ("#D55E00", "D"),
    "door": ("#009E73", "^"),
    "wheel": ("#CC79A7", "v"),
    "length": ("#56B4E9", "P"),
}
_INK, _FAINT, _BLUE, _ORANGE, _GREEN = "#222222", "#BBBBBB", "#0072B2", "#D55E00", "#009E73"
_STYLE: Final[Any] = {
    "font.size": 9,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.edgecolor": _INK,
    "axes.labelcolor": _INK,
    "text.color": _INK,
    "legend.frameon": False,
}
_DPI: Final = 100


def draw_plots(analysis: Analysis, folder: Path) -> dict[str, str]:
    """Write the PNG files; names of files by what they show."""
    scope = analysis.scope
    plots: dict[str, tuple[tuple[float, float], Callable[[Axes], None]]] = {
        "error_by_inseam": ((7.5, 4.2), lambda axes: _errors(axes, analysis.items)),
        "coverage": ((4.6, 4.2), lambda axes: _coverage(axes, scope)),
        "error_by_group": ((7.5, 8.6), lambda axes: _groups(axes, analysis.items, scope)),
        "budget_against_seen": ((7.5, 4.2), lambda axes: _sources(axes, analysis.sources)),
        "decisions": ((7.5, 3.8), lambda axes: _decisions(axes, analysis.decisions)),
        "several_photos": ((5.2, 3.6), lambda axes: _several(axes, analysis.several.counts)),
    }
    with mpl.rc_context(_STYLE):
        for name, (size_in, draw) in plots.items():
            figure = Figure(figsize=size_in, dpi=_DPI, layout="constrained")
            draw(figure.subplots())
            _save(figure, folder / f"{name}.png")
    return {name: f"{name}.png" for name in plots}


def _save(figure: Figure, path: Path) -> None:
    """A small PNG: few colours suffice, and no time or program stands in it."""
    drawn = io.BytesIO()
    figure.savefig(drawn, format="png", metadata={"Software": None})
    drawn.seek(0)
    few = Image.open(drawn).convert("RGB").quantize(64, dither=Image.Dither.NONE)
    few.save(path, "PNG", optimize=True)


def _errors(axes: Axes, items: Sequence[Scored]) -> None:
    for kind, (colour, marker) in _KINDS.items():
        own = [item for item in items if item.truth["reference"]["kind"] == kind]
        if not own:
            continue
        axes.errorbar(
            [item.true_mm for item in own],
            [item.error_mm for item in own],
            [1.96 * item.sd_mm for item in own],
            fmt=marker,
            ms=4,
            lw=0.8,
            color=colour,
            label=f"{kind} ({len(own)})",
        )
    axes.axhline(0, color=_INK, lw=0.8)
    # One blunder must not squeeze the rest; what lies outside is in the table of photos.
    reach_mm = max(40.0, 1.2 * float(np.quantile([abs(item.error_mm) for item in items], 0.95)))
    outside = sum(abs(item.error_mm) > reach_mm for item in items)
    axes.set_ylim(-reach_mm, reach_mm)
    axes.set_xlabel("true inseam, mm")
    note = f"; {outside} outside" if outside else ""
    axes.set_ylabel(f"reading − truth, mm, 95 % interval{note}")
    axes.legend(ncols=3, fontsize=8)


def _coverage(axes: Axes, items: Sequence[Scored]) -> None:
    levels = np.linspace(0.02, 0.99, 98)
    ratios = np.array([abs(item.error_mm) / item.sd_mm for item in items])
    real = np.array([(ratios <= ndtri((1 + level) / 2)).mean() for level in levels])
    doubt = 1.96 * np.sqrt(levels * (1 - levels) / len(items))
    axes.fill_between(
        100 * levels,
        100 * np.clip(levels - doubt, 0, 1),
        100 * np.clip(levels + doubt, 0, 1),
        color=_FAINT,
        alpha=0.5,
        lw=0,
        label=f"chance alone, 95 %, n = {len(items)}",
    )
    axes.plot([0, 100], [0, 100], color=_INK, lw=0.8)
    axes.step(100 * levels, 100 * real, color=_BLUE, lw=1.6, label="photos in scope")
    axes.set_xlim(0, 100)
    axes.set_ylim(0, 100)
    axes.set_xlabel("nominal coverage of the interval, %")
    axes.set_ylabel("intervals that held the truth, %")
    axes.legend(fontsize=8, loc="upper left")


def _groups(axes: Axes, items: Sequence[Scored], scope: Sequence[Scored]) -> None:
    rows: list[str] = []
    for title, label_of in GROUPINGS.items():
        pool = items if title in ("Legwear", "Heels off the wall") else scope
        for group in groups_by(label_of, pool):
            place = len(rows)
            errors_mm = np.clip([item.error_mm for item in group.items], -60, 60)
            axes.plot(errors_mm, [place] * len(errors_mm), ".", ms=4, color=_BLUE, alpha=0.45)
            axes.plot(np.median(errors_mm), place, "|", ms=11, mew=2, color=_ORANGE)
            rows.append(f"{title}: {group.label} ({group.metrics.count})")
    axes.axvline(0, color=_INK, lw=0.8)
    axes.set_yticks(range(len(rows)), rows, fontsize=7)
    axes.invert_yaxis()
    axes.set_xlim(-62, 62)
    axes.set_xlabel("reading − truth, mm (beyond ±60 drawn at the edge); bar: median")


def _sources(axes: Axes, sources: Sequence[SourceErrors]) -> None:
    shown = [source for source in sources if source.claimed_mm > 0]
    places = np.arange(len(shown))
    axes.barh(
        places - 0.2, [s.claimed_mm for s in shown], 0.38, color=_FAINT, label="the budget says"
    )
    seen = [float(np.sqrt(np.mean(s.errors_mm**2))) for s in shown]
    axes.barh(places + 0.2, seen, 0.38, color=_BLUE, label="really made (root mean square)")
    # One blunder must not squeeze the rest: a bar that leaves the plot says how long it is.
    reach_mm = 2.5 * max(source.claimed_mm for source in shown)
    for place, source, rms_mm in zip(places, shown, seen, strict=True):
        if rms_mm > reach_mm:
            axes.text(reach_mm, place + 0.2, f"{rms_mm:.0f} ", va="center", ha="right", color="w")
        axes.plot([abs(source.bias_mm)] * 2, [place + 0.02, place + 0.38], color=_ORANGE, lw=2)
    axes.plot([], [], color=_ORANGE, lw=2, label="of which the mean, without its sign")
    axes.set_xlim(0, min(reach_mm, 1.05 * max(*seen, *(s.claimed_mm for s in shown))))
    axes.set_yticks(places, [f"{s.source} ({s.errors_mm.size})" for s in shown], fontsize=8)
    axes.invert_yaxis()
    axes.set_xlabel("mm of inseam")
    axes.legend(fontsize=8, loc="lower right")


def _decisions(axes: Axes, decisions: Sequence[Decision]) -> None:
    places = np.arange(len(decisions))
    start = np.zeros(len(decisions))
    for words, colour, shares in (
        ("touch the bar", _ORANGE, [d.touching for d in decisions]),
        ("unfit otherwise", "#E69F00", [max(d.unfit - d.touching, 0.0) for d in decisions]),
        ("none, though one fits", _GREEN, [d.none_though_one_fits for d in decisions]),
        ("fits, another for longer", "#56B4E9", [d.less_room for d in decisions]),
    ):
        part = 100 * np.array(shares)
        axes.barh(places, part, 0.6, left=start, color=colour, label=words)
        start += part
    for place, decision in zip(places, decisions, strict=True):
        words = f" touch {100 * decision.touching_of_advised:.2g} % of the advised"
        axes.text(float(start[place]), place, words, va="center", fontsize=7)
    axes.set_yticks(places, [decision.method for decision in decisions], fontsize=8)
    axes.invert_yaxis()
    axes.set_xlim(0, max(100.0, 1.4 * float(start.max())))
    axes.set_xlabel("children, %")
    axes.legend(fontsize=7, ncols=4, loc="upper center", bbox_to_anchor=(0.4, -0.16))


def _several(axes: Axes, counts: Sequence[ByCount]) -> None:
    photos = [one.photos for one in counts]
    axes.plot(photos, [one.metrics.mae_mm for one in counts], "o-", color=_BLUE, label="MAE")
    widths = [one.metrics.half_width_mm or float("nan") for one in counts]
    axes.plot(photos, widths, "s--", color=_ORANGE, label="median half width, 95 %")
    axes.set_ylim(bottom=0)
    axes.set_xticks(photos)
    axes.set_xlabel("photos of one child combined")
    axes.set_ylabel("mm")
    axes.legend(fontsize=8)
