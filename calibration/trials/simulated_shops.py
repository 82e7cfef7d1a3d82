"""Simulated shops: does the correction by pairs keep its promise, and what does it save?

    python -m calibration.trials.simulated_shops [--shops 1000] [--out calibration/results/simulated_shops.md]

Each shop has an offset of its photos, a scale of their errors, one to three people who hold the
tape with a habit each, careful and hasty tapes, and now and then a tape that slipped. After each
pair from 0 to 200 the correction is formed as the product forms it, and the next child's photo is
corrected by it. Coverage is the chance that the child's true inseam lies in the stated 95 %
interval: exact for each shop, averaged over the shops. Offsets come from the model's own prior, and
from outside it: nothing here was fitted to what it scores.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final

import numpy as np
import typer
from numpy.typing import NDArray
from scipy.special import ndtr

from pose_fit.inseam.from_tape import TAPE_CARE, Care, repeatability_sd_mm
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.pairs.offset_model import (
    HABIT_SD_MM,
    SLIP_CHANCE,
    SLIP_SCALE_MM,
    Differences,
    Posterior,
    log_likelihood,
    posterior,
)
from pose_fit.pairs.rendered_prior import RENDERED_SD_MM

FloatArray = NDArray[np.float64]
PAIRS: Final = 200
RESULT: Final = Path(__file__).parents[1] / "results" / "simulated_shops.md"
#: Own standard uncertainty of a photo, from a good one to a poor one, millimetres.
PHOTO_SD_MM: Final = (8.0, 15.0)
SHOWN: Final = (0, 1, 2, 3, 5, 10, 20, 30, 50, 100, 200)


@dataclass(frozen=True)
class Scenario:
    """Where the offsets of some shops come from."""

    name: str
    share: float

    def offset_mm(self, rng: np.random.Generator) -> float:
        sd_mm = RENDERED_SD_MM
        match self.name:
            case "from the prior":
                # Student's t of 5 degrees for all children, normal for the shop; see offset_model.
                general = rng.standard_t(5) * np.sqrt(3 / 5 * 0.75) * sd_mm
                return float(general + rng.normal(0, sd_mm / 2))
            case "twice as wide":
                return float(rng.normal(0, 2 * sd_mm))
            case "always 2 sd off":
                return float(rng.choice([-2, 2]) * sd_mm)
            case "always 3 sd off":
                return float(rng.choice([-3, 3]) * sd_mm)
            case "no offset at all":
                return 0.0
        raise ValueError(self.name)


SCENARIOS: Final = (
    Scenario("from the prior", 1.0),
    Scenario("no offset at all", 0.25),
    Scenario("twice as wide", 0.25),
    Scenario("always 2 sd off", 0.25),
    Scenario("always 3 sd off", 0.25),
)


@dataclass(frozen=True, eq=False)
class Track:
    """One shop after 0 to 200 pairs: coverage and width of the next child's interval."""

    coverage: FloatArray
    width_mm: FloatArray


def shop(scenario: Scenario, rng: np.random.Generator, *, slip_at: int | None = None) -> Track:
    """One shop's pairs, one after the other; with ``slip_at`` that tape is 100 mm wrong."""
    offset_mm = scenario.offset_mm(rng)
    scale = float(np.exp(rng.normal(-(0.25**2), 0.25)))
    habits_mm = rng.normal(0, HABIT_SD_MM, int(rng.integers(1, 4)))
    holder = rng.integers(0, len(habits_mm), PAIRS)
    photo_sd_mm = rng.uniform(*PHOTO_SD_MM, PAIRS)
    tapes = [_tape(rng) for _ in range(PAIRS)]
    tape_mm = np.array([error_mm for error_mm, _ in tapes]) + habits_mm[holder]
    if slip_at is not None:
        tape_mm[slip_at] = 100.0
    photo_mm = offset_mm + scale * photo_sd_mm * rng.normal(size=PAIRS)
    table = Differences(photo_mm - tape_mm, photo_sd_mm, np.array([sd for _, sd in tapes]))
    found = after_each(table, holder)
    own_mm = float(rng.uniform(*PHOTO_SD_MM))
    sd_mm = np.hypot(found.scale * own_mm, found.offset_sd_mm)
    half_mm = COVERAGE_FACTOR_95 * sd_mm
    left_mm = offset_mm - found.offset_mm
    true_sd_mm = scale * own_mm
    coverage = ndtr((half_mm - left_mm) / true_sd_mm) - ndtr((-half_mm - left_mm) / true_sd_mm)
    return Track(np.asarray(coverage), 2 * half_mm)


def after_each(table: Differences, holder: NDArray[np.int64]) -> Posterior:
    """The posterior after 0, 1, ... pairs; the model's own functions on running sums."""
    each = log_likelihood(table)
    takers = []
    for name in np.unique(holder):
        own = np.where((holder == name)[:, None, None], each, 0.0)
        takers.append(np.concatenate([np.zeros((1, *each.shape[1:])), own.cumsum(axis=0)]))
    return posterior(takers)


def _tape(rng: np.random.Generator) -> tuple[float, float]:
    """Error of a tape without its holder's habit, and the standard uncertainty it states."""
    care: Care = "careful" if rng.random() < 0.8 else "hasty"
    known = TAPE_CARE[care]
    count = int(rng.integers(1, 4))
    readings_mm = 600 + rng.normal(0, known.reading_sd_mm, count)
    technique_mm = np.sqrt(known.technique_sd_mm**2 - HABIT_SD_MM**2)
    error_mm = float(readings_mm.mean() - 600 + rng.normal(0, technique_mm))
    if rng.random() < SLIP_CHANCE:
        error_mm += float(rng.normal(0, SLIP_SCALE_MM))
    stated = repeatability_sd_mm(list(readings_mm), care=care)
    return error_mm, float(np.hypot(stated, technique_mm))


def report(shops: int, *, seed: int) -> str:
    """The tables as text."""
    lines = [
        "# Simulated shops",
        "",
        f"Output of `python -m calibration.trials.simulated_shops --shops {shops}` (seed {seed}); the budget"
        f" line for rendered children is {RENDERED_SD_MM:.0f} mm before any pair. Coverage of"
        " the stated 95 % interval of the next child's photo after n pairs, per cent.",
        "",
        "| offsets of the shops | shops | "
        + " | ".join(f"n = {n}" for n in SHOWN)
        + " | lowest and highest of n = 0 to 200 | 92 to 98 from n = |",
        "|---|" + "---|" * (len(SHOWN) + 3),
    ]
    widths: list[FloatArray] = []
    for number, scenario in enumerate(SCENARIOS):
        rng = np.random.default_rng([seed, number])
        count = max(round(shops * scenario.share), 2)
        tracks = [shop(scenario, rng) for _ in range(count)]
        lines.append(_row(scenario.name, tracks))
        if number == 0:
            widths = [track.width_mm for track in tracks]
            lines_of_prior = _spread(tracks)
        print(lines[-1], flush=True)
    rng = np.random.default_rng([seed, 99])
    slipped = [shop(SCENARIOS[0], rng, slip_at=2) for _ in range(max(shops // 4, 2))]
    lines.append(_row("from the prior, third tape 100 mm wrong", slipped))
    shrinks = np.stack(widths) / np.stack(widths)[:, :1]
    lines += [
        "",
        f"Standard error of a coverage: about {100 * lines_of_prior:.1f} percentage points of"
        " the first row, twice that of the others.",
        "",
        "Width of the next child's interval against its width without pairs, offsets from the"
        " prior:",
        "",
        "| pairs | median | widest tenth above |",
        "|---|---|---|",
        *(
            f"| {n} | {np.median(shrinks[:, n]):.2f} | {np.quantile(shrinks[:, n], 0.9):.2f} |"
            for n in (10, 30, 100, 200)
        ),
        "",
        "The interval cannot shrink below the photo's own error and the habit of who holds the tape.",
    ]
    return "\n".join(lines) + "\n"


def _row(name: str, tracks: list[Track]) -> str:
    mean = 100 * np.mean([track.coverage for track in tracks], axis=0)
    outside = np.flatnonzero((mean < 92) | (mean > 98))
    first = int(outside[-1]) + 1 if len(outside) else 0
    since = str(first) if first <= PAIRS else "never"
    shown = " | ".join(f"{mean[n]:.1f}" for n in SHOWN)
    return f"| {name} | {len(tracks)} | {shown} | {mean.min():.1f} to {mean.max():.1f} | {since} |"


def _spread(tracks: list[Track]) -> float:
    all_of_them = np.stack([track.coverage for track in tracks])
    return float((all_of_them.std(axis=0) / np.sqrt(len(tracks))).max())


def main(
    shops: Annotated[
        int, typer.Option(help="Shops of the first row; the others have a part.")
    ] = 1000,
    seed: Annotated[int, typer.Option(help="Seed of everything drawn.")] = 19,
    out: Annotated[Path, typer.Option(help="The page.")] = RESULT,
) -> None:
    """Simulate the shops and write the page."""
    text = report(shops, seed=seed)
    out.write_text(text, encoding="utf-8")
    typer.echo(text)


if __name__ == "__main__":
    typer.run(main)
