"""The report of the bench: every figure, with what it was worked out from."""

from collections import Counter
from pathlib import Path

from calibration.observe import observe_folder, world_of
from calibration.score.analysis import SEED, Analysis, analyse
from calibration.score.files import write_photos, write_truths
from calibration.score.plots import draw_plots
from calibration.score.sections import (
    ablation_section,
    baseline_section,
    body_section,
    decision_section,
    group_sections,
    limits_section,
    refusal_section,
    several_section,
    source_section,
    world_section,
    worst_section,
)
from calibration.scored import refused

__all__ = ["report_text", "write_report"]


def write_report(folder: Path, *, out: Path, fitted_on: Path | None = None) -> str:
    """Score the worlds and write report, plots and tables; says in a line what was done.

    ``fitted_on`` are other photos of the same worlds, on which the models are fitted.

    Raises
    ------
    ValueError
        Nothing to score.
    """
    analysis = analyse(folder, fitted_on=fitted_on)
    out.mkdir(parents=True, exist_ok=True)
    draw_plots(analysis, out)
    write_photos(analysis.results, out / "photos.csv")
    write_truths((item.truth for item in observe_folder(folder)), out / "truths.jsonl.gz")
    (out / "report.md").write_text(report_text(analysis), encoding="utf-8")
    return f"{len(analysis.items)} photos scored; report in {out / 'report.md'}"


def report_text(analysis: Analysis) -> str:
    """The report in Markdown; its plots lie beside it."""
    sections = [
        _head(analysis),
        limits_section(analysis),
        world_section(analysis),
        refusal_section(analysis),
        "![Errors with their intervals](error_by_inseam.png)\n\n"
        "![Nominal against real coverage](coverage.png)\n",
        group_sections(analysis),
        source_section(analysis),
        worst_section(analysis),
        ablation_section(analysis),
        baseline_section(analysis),
        decision_section(analysis),
        several_section(analysis),
        body_section(analysis),
    ]
    return "\n".join(sections)


def _head(analysis: Analysis) -> str:
    model = analysis.model
    photos = Counter(world_of(result.truth) for result in analysis.results)
    worlds = ", ".join(f"{world} {count}" for world, count in sorted(photos.items()))
    return f"""# What the photos of other worlds show

    python -m calibration observe --bench FIRST --networks NETWORKS
    python -m calibration fit --bench FIRST
    python -m calibration observe --bench SECOND --networks NETWORKS
    python -m calibration score --bench SECOND --fitted-on FIRST

regenerates this page, its plots, `photos.csv` (a row for each photo) and `truths.jsonl.gz` (parameters
and truth of every scene). Everything drawn in the score comes from seed {SEED}.

Rendered photos, not people. A world is a way of dressing and placing children that differs in
kind from the others. **Every figure below is of a world left out**: each photo is read with a
network and an error model that were made from all other worlds and never saw its own. FIRST and
SECOND are two sets of the same worlds with other children and rooms: everything was chosen and
fitted on FIRST, and SECOND was only scored.

- Shipped error model {model.version} of {model.date}: {model.source}.
- First photos of a child, by world: {worlds}.
- {len(analysis.results)} photos, {len(analysis.items)} measured, {len(refused(analysis.results))} refused.
- In scope, as the limits have it: {len(analysis.scope)} measured photos with legwear neither
  loose nor hidden and heels within 50 mm of the wall.

Errors are reading minus truth, in millimetres. Numbers in brackets are 95 % intervals of what
few photos leave open: exact binomial (Clopper-Pearson) for shares, bootstrap for mean errors.
"""
