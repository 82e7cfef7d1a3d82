"""A child's own growth line on measured children: does it cover, and what does it gain?

    python -m calibration.people.child_history [--out calibration/results/child_history.md]

Children measured every birthday (Berkeley Guidance Study, calibration/data): the drift was fitted on
the odd-numbered half, this scores the even-numbered. Their inseam was not measured, so the method is
scored on stature, with the same code and stature's curve. Each birthday of 5 to 13 years stands for
"now": the newest one to four birthdays are measured with an error of 8 mm, a year apart, and stature one,
two and three years on is forecast.
"""

from pathlib import Path
from typing import Annotated, Final

import numpy as np
import typer
from numpy.typing import NDArray

from calibration.people.growth_by_age import followed
from pose_fit.growth.curve import stature_curve
from pose_fit.growth.history import History, history_on_curve
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

RESULT: Final = Path(__file__).parents[1] / "results" / "child_history.md"
ERROR_MM: Final = 8.0


def scores() -> dict[tuple[int, int], NDArray[np.float64]]:
    """By measurements and years ahead: (S, 3) true, forecast and standard uncertainty."""
    table = followed()
    scored = table[~table.fitted]
    rng = np.random.default_rng(4)
    found: dict[tuple[int, int], list[tuple[float, float, float]]] = {}
    for (_, sex), child in scored.groupby(["person", "sex"]):
        curve = stature_curve("f" if sex == "f" else "m")
        lengths = dict(zip(child.age_y, child.stature_cm * 10, strict=True))
        errors = {age: rng.normal(0, ERROR_MM) for age in lengths}
        for now in range(5, 14):
            for count in (1, 2, 3, 4):
                ages = [now - back for back in range(count)][::-1]
                if any(age not in lengths for age in ages):
                    continue
                history = History(
                    np.array([float(now - age) for age in ages]),
                    np.array([lengths[age] + errors[age] for age in ages]),
                    np.eye(count) * ERROR_MM**2,
                )
                months = np.array([0.0, 12.0, 24.0, 36.0])
                _, forecast = history_on_curve(curve, history, age_y=float(now), months=months)
                for ahead in (0, 1, 2, 3):
                    if now + ahead in lengths:
                        found.setdefault((count, ahead), []).append(
                            (lengths[now + ahead], forecast.mean_mm[ahead], forecast.sd_mm[ahead])
                        )
    return {key: np.array(rows) for key, rows in found.items()}


def report() -> str:
    lines = [
        "# A child's own growth line on measured children",
        "",
        "Output of `python -m calibration.people.child_history`: stature of the even-numbered children of the"
        f" Berkeley study, now 5 to 13 years old, measured with an error of {ERROR_MM:.0f} mm.",
        "",
        "| birthdays measured | years ahead | forecasts | covered (95 %) | root mean square error, mm"
        " | median half width, mm |",
        "|---|---|---|---|---|---|",
    ]
    for (count, ahead), rows in sorted(scores().items(), key=lambda item: item[0][::-1]):
        error = rows[:, 1] - rows[:, 0]
        covered = np.mean(abs(error) <= COVERAGE_FACTOR_95 * rows[:, 2])
        lines.append(
            f"| {count} | {ahead} | {len(rows)} | {100 * covered:.1f} % |"
            f" {np.sqrt((error**2).mean()):.1f} | {COVERAGE_FACTOR_95 * np.median(rows[:, 2]):.0f} |"
        )
    return "\n".join(lines) + "\n"


def main(out: Annotated[Path, typer.Option(help="The page.")] = RESULT) -> None:
    """Score the forecasts and write the page."""
    text = report()
    out.write_text(text, encoding="utf-8")
    typer.echo(text)


if __name__ == "__main__":
    typer.run(main)
