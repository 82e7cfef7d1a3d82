"""Where the line's end and the network's crotch lie against the true one, by legwear."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from calibration.fit.pooled import core, rising, spread
from calibration.fit.true_errors import Seen, hang_mm, look_down, shows_line, skin_error
from calibration.observe import stated_legwear, world_of
from pose_fit.task.legwear import LEGWEAR

__all__ = ["LEAST_SKIN_CROTCH_SD", "Hang", "Skin", "hang_model", "skin_model"]

_Array = NDArray[np.float64]

#: Least error of the skin's crotch by the network beyond its own spread: fitted to worlds that its
#: weights never saw, all of one body model.
LEAST_SKIN_CROTCH_SD: Final = 0.020


@dataclass(frozen=True, eq=False, slots=True)
class Hang:
    """Where the seen end of the line lies: (3,) below the crotch, by legwear, and before it."""

    means_mm: _Array
    sds_mm: _Array
    before_part: float


def hang_model(seen: Sequence[Seen]) -> Hang:
    """One depth and three heights; a soft loss, so that a few wrong ends do not turn them.

    The end is seen on the front of the body. How far before the crotch follows from photos from
    above, in which it looks lower. Each spread holds what the worlds differ by.
    """
    shown = [item for item in seen if shows_line(item)]
    hangs = np.array([hang_mm(item) for item in shown])
    lower = np.array([look_down(item) * item.truth["inseam_mm"] for item in shown])
    places = np.array([LEGWEAR.index(stated_legwear(item.truth)) for item in shown])
    worlds = np.array([world_of(item.truth) for item in shown])
    is_worn = places[:, None] == np.arange(3)
    *_, before = least_squares(
        lambda line: is_worn @ line[:3] + line[3] * lower - hangs,
        np.zeros(4),
        loss="soft_l1",
        f_scale=5.0,
    ).x
    left = hangs - before * lower
    cores = [core(left[worn], worlds[worn]) for worn in is_worn.T]
    counts = is_worn.astype(float).sum(axis=0)
    means, sds = np.array(cores, float).T
    return Hang(rising(means, counts), np.sqrt(rising(sds**2, counts)), float(before))


@dataclass(frozen=True, eq=False, slots=True)
class Skin:
    """Where the network puts the skin's crotch: (3,) below the true one, by legwear; its error."""

    below_parts: _Array
    hang_share: float
    sd_part: float


def skin_model(seen: Sequence[Seen]) -> Skin:
    """How far the network's crotch is too low, in straight legs, where it sees one.

    A soft loss, so that blunders do not turn it, and a weak pull to 0: a legwear may be of one
    world alone. Meant for networks that have not seen the photo's world.
    """
    shown = [
        (item, skin)
        for item in seen
        for skin in item.sights.crotches
        if skin.is_at_skin and item.truth["legwear"] != "hidden"
    ]
    if not shown:
        return Skin(np.zeros(3), 0.0, LEAST_SKIN_CROTCH_SD)
    errors = np.array([skin_error(item, skin) for item, skin in shown])
    hangs = np.array([skin.hang_part for _, skin in shown])
    places = np.array([LEGWEAR.index(stated_legwear(item.truth)) for item, _ in shown])
    worlds = np.array([world_of(item.truth) for item, _ in shown])
    design = np.column_stack([places[:, None] == np.arange(3), -hangs])
    *below, share = least_squares(
        lambda line: np.append(design @ line - errors, line * _PULL),
        np.zeros(4),
        loss="soft_l1",
        f_scale=0.015,
    ).x
    left = errors - design @ np.append(below, share)
    core = np.abs(left) < _SKIN_BLUNDER
    groups = [left[core & (worlds == world)] for world in sorted(set(worlds))]
    between = np.var([group.mean() for group in groups], ddof=1) if len(groups) > 1 else 0.0
    within = np.mean([spread(group) ** 2 for group in groups])
    own = np.median([skin.edge_sd_px / item.sights.body.leg_px for item, skin in shown])
    # What the network's own spread covers is in the budget already.
    sd = float(np.sqrt(max(within + between - own**2, 0.0)))
    return Skin(np.array(below), float(share), sd)


#: A blunder of the network's, in legs, and how strongly its means are pulled to 0.
_SKIN_BLUNDER: Final = 0.08

_PULL: Final = 0.5
