"""Speed of the judgement, beside the bare NumPy it cannot do without.

    python -m calibration.speed.engine

Two loads: 10,000 bicycles for one child, and 1,000 children on 100 bicycles. ``cold`` starts
from bicycle objects, ``warm`` from a catalogue whose inseams of change are known. The floor is
five normal distribution functions over the same number of pairs, drawn into five arrays.
Each figure is the median of several runs in one process.
"""

import statistics
import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.fit.fleet import Fleet
from pose_fit.fit.inseams_of_change import thresholds
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.verdicts import judge_many
from pose_fit.inseam.inseam import Inseam

_RUNS = 15
_Lengths = NDArray[np.float64] | float


def main() -> None:
    """Measure and print a table."""
    rider, policy = Rider(), Policy()
    demo = read_catalogue(DEMO_CATALOGUE)
    many = tuple(
        replace(demo[place % len(demo)], name=f"{place}", standover_mm=250.0 + place % 500)
        for place in range(10_000)
    )
    few = many[:100]
    random = np.random.default_rng(1)
    means_mm = random.uniform(350, 800, 1000)
    sds_mm = random.uniform(4, 20, 1000)

    def cold(
        bicycles: tuple[Bicycle, ...], mean_mm: _Lengths, sd_mm: _Lengths
    ) -> Callable[[], object]:
        def run() -> object:
            changes = thresholds(Fleet.of(bicycles), rider=rider, policy=policy)
            return judge_many(mean_mm, sd_mm, changes, policy=policy)

        return run

    known_many = thresholds(Fleet.of(many), rider=rider, policy=policy)
    known_few = thresholds(Fleet.of(few), rider=rider, policy=policy)
    child = Inseam.stated(600, 7)
    loads = [
        (
            "10,000 bicycles x 1 child",
            (1, 10_000),
            50.0,
            cold(many, 600.0, 7.0),
            lambda: judge_many(600.0, 7.0, known_many, policy=policy),
        ),
        (
            "100 bicycles x 1,000 children",
            (1000, 100),
            1000.0,
            cold(few, means_mm, sds_mm),
            lambda: judge_many(means_mm, sds_mm, known_few, policy=policy),
        ),
    ]
    print(
        f"{'load':32}{'limit ms':>10}{'floor ms':>10}{'warm ms':>10}{'cold ms':>10}{'warm/floor':>12}{'cold/floor':>12}"
    )
    for name, shape, limit_ms, run_cold, run_warm in loads:
        floor_ms = _median_ms(_floor(shape))
        warm_ms, cold_ms = _median_ms(run_warm), _median_ms(run_cold)
        print(
            f"{name:32}{limit_ms:10.0f}{floor_ms:10.2f}{warm_ms:10.2f}{cold_ms:10.2f}"
            f"{warm_ms / floor_ms:12.1f}{cold_ms / floor_ms:12.1f}"
        )
    objects_ms = _median_ms(lambda: judge(child, many))
    print(f"with a Fit object for each of 10,000 bicycles: {objects_ms:.0f} ms")


def _floor(shape: tuple[int, int]) -> Callable[[], object]:
    z = np.random.default_rng(2).normal(size=(5, *shape))
    return lambda: ndtr(z)


def _median_ms(run: Callable[[], object]) -> float:
    run()
    times = []
    for _ in range(_RUNS):
        start = time.perf_counter()
        run()
        times.append(1000 * (time.perf_counter() - start))
    return statistics.median(times)


if __name__ == "__main__":
    main()
