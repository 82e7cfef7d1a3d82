"""Tables and numbers as Markdown."""

import math
from collections.abc import Sequence

from calibration.score.metrics import Coverage, Metrics

__all__ = ["METRIC_HEADS", "metric_cells", "mm", "percent", "table"]

METRIC_HEADS = (
    "n",
    "bias",
    "MAE",
    "95th pct",
    "cov. 50 %",
    "cov. 80 %",
    "cov. 95 %",
    "half width",
)


def table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A Markdown table: the first column to the left, the others to the right."""
    rules = [":--"] + ["--:"] * (len(heads) - 1)
    lines = [heads, rules, *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines) + "\n"


def mm(value: float | None, *, sign: bool = False) -> str:
    """Millimetres to a tenth; a dash where nothing is known."""
    if value is None or math.isnan(value):
        return "–"
    text = f"{value:+.1f}" if sign else f"{value:.1f}"
    return text.replace("-", "−")


def percent(share: float, digits: int = 0) -> str:
    """A share of 0 to 1 in per cent."""
    return "–" if math.isnan(share) else f"{100 * share:.{digits}f} %"


def metric_cells(metrics: Metrics) -> list[str]:
    """The cells under :data:`METRIC_HEADS`, millimetres."""
    coverages = [_covered(coverage) for coverage in metrics.coverages] or ["–"] * 3
    return [
        str(metrics.count),
        mm(metrics.bias_mm, sign=True),
        mm(metrics.mae_mm),
        mm(metrics.p95_mm),
        *coverages,
        mm(metrics.half_width_mm),
    ]


def _covered(coverage: Coverage) -> str:
    low, high = coverage.interval95
    return f"{100 * coverage.share:.0f} ({100 * low:.0f}–{100 * high:.0f})"
