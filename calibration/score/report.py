"""The report of the bench: every figure, with what it was worked out from."""

from collections import Counter
from pathlib import Path

from calibration.fit import FITTED_SEEDS
from calibration.observe import observe_folder
from calibration.score.analysis import SEED, Analysis, analyse
from calibration.score.files import write_photos, write_truths
from calibration.score.plots import draw_plots
from calibration.score.scored import measured, refused
from calibration.score.sections import (
    ablation_section,
    body_section,
    decision_section,
    group_sections,
    must_show_section,
    refusal_section,
    rival_section,
    several_section,
    source_section,
    worst_section,
)

__all__ = ["report_text", "write_report"]


def write_report(bench: Path, *, children: Path | None, out: Path) -> str:
    """Score the bench and write report, plots and tables; says in a line what was done.

    Raises
    ------
    ValueError
        Nothing to score.
    """
    analysis = analyse(bench, children=children)
    out.mkdir(parents=True, exist_ok=True)
    draw_plots(analysis, out)
    write_photos((*analysis.fitted_results, *analysis.results), out / "photos.csv")
    observations = observe_folder(bench)
    if children is not None:
        observations += observe_folder(children)
    write_truths((item.truth for item in observations), out / "truths.jsonl.gz")
    (out / "report.md").write_text(report_text(analysis), encoding="utf-8")
    return f"{len(analysis.items)} photos scored; report in {out / 'report.md'}"


def report_text(analysis: Analysis) -> str:
    """The report in Markdown; its plots lie beside it."""
    sections = [
        _head(analysis),
        must_show_section(analysis),
        refusal_section(analysis),
        "![Errors with their intervals](error_by_inseam.png)\n\n"
        "![Nominal against real coverage](coverage.png)\n",
        group_sections(analysis),
        source_section(analysis),
        worst_section(analysis),
        ablation_section(analysis),
        rival_section(analysis),
        decision_section(analysis),
        several_section(analysis),
        body_section(analysis),
    ]
    return "\n".join(sections)


def _head(analysis: Analysis) -> str:
    model = analysis.model
    fitted = analysis.fitted_results
    return f"""# What the photos of the bench show

{_render_lines(analysis)}
    python -m calibration fit --bench BENCH
    python -m calibration observe --bench BENCH --fresh
    python -m calibration score --bench BENCH

regenerates this page, its plots, `photos.csv` (a row a photo) and `truths.jsonl.gz` (parameters
and truth of every scene). Everything drawn in the score comes from seed
{SEED}.

Rendered photos, not people: the bodies are a body model's, and their proportions are not those
of measured children. Error model {model.version} of {model.date}: {model.source}.

- Fitted part: {len(fitted)} photos (seeds {", ".join(map(str, FITTED_SEEDS))}), {len(measured(fitted))} measured;
  finders were improved on them too. No figure below is of them, except where it says so.
- Scored part: {len(analysis.results)} photos, {len(analysis.items)} measured,
  {len(refused(analysis.results))} refused. No body and no scene of it was used to fit.
- In scope, as the limits have it: {len(analysis.scope)} measured photos of the scored part with
  legwear neither loose nor hidden and heels within 50 mm of the wall.

Errors are reading minus truth, in millimetres. Numbers in brackets are 95 % intervals of what
few photos leave open: exact binomial (Clopper-Pearson) for shares, bootstrap for mean errors.
"""


def _render_lines(analysis: Analysis) -> str:
    """The commands that render both parts."""
    counts = Counter(
        int(result.truth["seed"]) for result in (*analysis.fitted_results, *analysis.results)
    )
    return "\n".join(
        f"    python -m calibration render --out BENCH --count {count} --seed {seed}"
        for seed, count in sorted(counts.items())
    )
