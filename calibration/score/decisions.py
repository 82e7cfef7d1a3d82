"""Decisions instead of millimetres: which bicycle each method advises, and what comes of it.

Measured children meet the catalogue. A method gives each of them a bicycle or none, several
times over where chance plays a part; the child's own inseam then says what that was worth.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from calibration.score.baselines import tape_readings_mm
from calibration.score.population import NO_BICYCLE, Riders, Shop
from pose_fit.anthropometry.known_ranges import check_sex
from pose_fit.fit.verdicts import judge_many
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import STATURE_BY_PARENTS_SD_MM, inseam_from_stature
from pose_fit.inseam.from_tape import Care, inseam_from_tape
from pose_fit.inseam.inseam import Inseam

__all__ = [
    "AGE_BAND_Y",
    "DRAWS",
    "STATURE_BAND_MM",
    "ChartRule",
    "Decision",
    "Places",
    "advise",
    "by_age",
    "by_chart",
    "by_photo",
    "by_stature",
    "by_tape",
    "decision_of",
    "touching_doubt",
]

Places = NDArray[np.intp]
ChartRule = Literal["most", "middle"]
#: Simulated tapes, statures or bicycles of a size for each child.
DRAWS: Final = 20
#: Width of a chart's bands: a year of age, 5 cm of stature (common practice, no source).
AGE_BAND_Y: Final = 1.0
STATURE_BAND_MM: Final = 50.0
_BOOTSTRAPS: Final = 2000


@dataclass(frozen=True, slots=True)
class Decision:
    """What a method's advice amounts to, shares 0 to 1 of children unless it says otherwise.

    Attributes
    ----------
    advised
        Got a bicycle advised.
    touching
        Were advised onto a bicycle whose bar they touch: clearance at most 0 with sole and
        standover as assumed.
    touching_of_advised
        The same, of those who got one advised.
    touching_drawn
        As ``touching_of_advised``, with sole and standover drawn from their uncertainty.
    none_though_one_fits
        Got none though one in stock truly fits.
    unfit
        One in stock truly fits, but the advised one does not.
    less_room
        The advised one fits, and another would have fitted for longer.
    """

    method: str
    advised: float
    touching: float
    touching_of_advised: float
    touching_drawn: float
    none_though_one_fits: float
    unfit: float
    less_room: float

    @property
    def without_best(self) -> float:
        """Left without the best bicycle, though one fits."""
        return self.none_though_one_fits + self.unfit + self.less_room


def advise(mean_mm: NDArray[np.float64], sd_mm: NDArray[np.float64], shop: Shop) -> Places:
    """The program's advice to (N,) inseams: its best recommended bicycle in stock, or none."""
    judgement = judge_many(mean_mm, sd_mm, shop.changes, policy=shop.policy)
    able = judgement.recommended & shop.in_stock
    # The sure ones first, as the program ranks them.
    sure = shop.best_of(able & ~judgement.unsure)
    return np.asarray(np.where(sure == NO_BICYCLE, shop.best_of(able), sure))


def decision_of(
    method: str, advice: Places, riders: Riders, shop: Shop, *, seed: int = 1
) -> Decision:
    """What comes of an (N, K) advice, K times to each of N riders.

    The best bicycle is what the program's own rule picks among those that truly fit.
    """
    given = advice != NO_BICYCLE
    fits, touches = shop.fits(riders.inseam_mm), shop.touches(riders.inseam_mm)
    rows = np.arange(len(riders))[:, None]
    able = fits.any(axis=1)[:, None]
    best = shop.best_of(fits)[:, None]
    fitting, touching = given & fits[rows, advice], given & touches[rows, advice]
    rng = np.random.default_rng(seed)
    changes = shop.changes
    off_mm = rng.normal(size=advice.shape) * changes.contact_sd_mm[advice]
    bar_mm = changes.contact_below_mm[advice] + off_mm
    drawn = given & shop.has_top_tube[advice] & (riders.inseam_mm[:, None] <= bar_mm)
    count = max(int(given.sum()), 1)
    return Decision(
        method=method,
        advised=float(given.mean()),
        touching=float(touching.mean()),
        touching_of_advised=float(touching.sum() / count),
        touching_drawn=float(drawn.sum() / count),
        none_though_one_fits=float((able & ~given).mean()),
        unfit=float((able & given & ~fitting).mean()),
        less_room=float((fitting & (advice != best)).mean()),
    )


def touching_doubt(
    advice: Places, riders: Riders, shop: Shop, *, seed: int = 1
) -> tuple[float, float]:
    """95 % interval of ``touching_of_advised`` over which K errors happened to be at hand.

    Percentile bootstrap over the columns (Efron 1979).
    """
    given = advice != NO_BICYCLE
    rows = np.arange(len(riders))[:, None]
    touching = (given & shop.touches(riders.inseam_mm)[rows, advice]).sum(axis=0)
    count = advice.shape[1]
    draws = np.random.default_rng(seed).integers(count, size=(_BOOTSTRAPS, count))
    advised = np.maximum(given.sum(axis=0)[draws].sum(axis=1), 1)
    low, high = np.quantile(touching[draws].sum(axis=1) / advised, [0.025, 0.975])
    return float(low), float(high)


def by_photo(
    riders: Riders, shop: Shop, *, errors_mm: Sequence[float], sds_mm: Sequence[float]
) -> Places:
    """(N, K): every rider read with the error and the stated uncertainty of each of K photos."""
    columns = [
        advise(riders.inseam_mm + error_mm, np.full(len(riders), sd_mm), shop)
        for error_mm, sd_mm in zip(errors_mm, sds_mm, strict=True)
    ]
    return np.column_stack(columns)


def by_tape(riders: Riders, shop: Shop, *, care: Care, seed: int) -> Places:
    """(N, K): simulated tapes, read as often as this care reads them."""
    rng = np.random.default_rng(seed)
    return _drawn(
        lambda: [
            inseam_from_tape(list(readings), care=care)
            for readings in tape_readings_mm(riders.inseam_mm, care=care, rng=rng)
        ],
        shop,
    )


def by_stature(riders: Riders, shop: Shop, *, seed: int) -> Places:
    """(N, K): the inseam of children of the stature that parents measure."""
    rng = np.random.default_rng(seed)

    def draw() -> list[Inseam]:
        told_mm = riders.stature_mm + rng.normal(0, STATURE_BY_PARENTS_SD_MM, len(riders))
        told_mm = np.clip(told_mm, 800, 1900)
        return [
            inseam_from_stature(told, sex=check_sex(str(sex)))
            for told, sex in zip(told_mm, riders.sex, strict=True)
        ]

    return _drawn(draw, shop)


def by_age(riders: Riders, shop: Shop) -> Places:
    """(N, 1): the inseam of children of that age and sex, with its uncertainty."""
    guesses = [
        inseam_from_age(float(age), sex=check_sex(str(sex)))
        for age, sex in zip(riders.age_y, riders.sex, strict=True)
    ]
    return _advice(guesses, shop)[:, None]


def by_chart(
    riders: Riders,
    shop: Shop,
    *,
    key: Callable[[Riders], NDArray[np.float64]],
    width: float,
    rule: ChartRule,
    made_from: Riders,
    seed: int,
) -> Places:
    """(N, K): a bicycle of the wheel size that a shop's chart gives for the child's band.

    The chart has a wheel size for each band of ``key`` that is ``width`` wide, made from the
    children of ``made_from`` in it: the size whose bicycles in stock fit the most of them on
    average (``most``), or the size of the best bicycle for the middle child (``middle``). Of
    that size the shop hands out any bicycle in stock, drawn alike. A band that nobody was in
    takes the nearest.
    """
    bands = np.floor(key(made_from) / width)
    known = np.unique(bands)
    size_of = np.array([_size(made_from.inseam_mm[bands == band], shop, rule) for band in known])
    asked = np.abs(np.floor(key(riders) / width)[:, None] - known).argmin(axis=1)
    rng = np.random.default_rng(seed)
    advice = np.empty((len(riders), DRAWS), np.intp)
    for size in np.unique(size_of):
        rows = size_of[asked] == size
        places = np.flatnonzero(shop.in_stock & (shop.wheel_in == size))
        advice[rows] = rng.choice(places, (int(rows.sum()), DRAWS))
    return advice


def _size(inseams_mm: NDArray[np.float64], shop: Shop, rule: ChartRule) -> float:
    fits = shop.fits(inseams_mm)
    if rule == "middle":
        middle = shop.best_of(shop.fits(np.array([np.median(inseams_mm)])))[0]
        if middle != NO_BICYCLE:
            return float(shop.wheel_in[middle])
    sizes = np.unique(shop.wheel_in[shop.in_stock])
    share = [fits[:, shop.in_stock & (shop.wheel_in == size)].mean() for size in sizes]
    return float(sizes[int(np.argmax(share))])


def _drawn(draw: Callable[[], list[Inseam]], shop: Shop) -> Places:
    return np.column_stack([_advice(draw(), shop) for _ in range(DRAWS)])


def _advice(inseams: Sequence[Inseam], shop: Shop) -> Places:
    means_mm = np.array([inseam.mean_mm for inseam in inseams])
    return advise(means_mm, np.array([inseam.sd_mm for inseam in inseams]), shop)
