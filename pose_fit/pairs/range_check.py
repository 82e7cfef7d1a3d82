"""Whether new pairs still lie where the earlier ones said they would."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from scipy.special import chdtrc, ndtr

from pose_fit.pairs.correction import correction_from, differences_of, slipped_tapes
from pose_fit.pairs.offset_model import HABIT_SD_MM
from pose_fit.pairs.pair import Pair
from pose_fit.refusal import Notice

__all__ = ["LATEST", "range_notices"]

#: The newest pairs, which are held against all before them.
LATEST: Final = 10
_LEAST_LATEST, _LEAST_EARLIER = 3, 5
#: Pairs that leave the range by chance do so once in a hundred looks.
_P: Final = 0.01


def range_notices(pairs: Sequence[Pair], *, shop: str = "") -> tuple[Notice, ...]:
    """What is unlike before: offset, spread, objects in the photo, or length of the legs.

    Pairs are taken by their day. Below eight there is nothing to compare.
    """
    ordered = sorted((pair for pair in pairs if pair.shop == shop), key=lambda pair: pair.day)
    count = min(LATEST, len(ordered) - _LEAST_EARLIER)
    if count < _LEAST_LATEST:
        return ()
    earlier, latest = ordered[:-count], ordered[-count:]
    return (*_offset_and_spread(earlier, latest, shop), *_new_kinds(earlier, latest))


def _offset_and_spread(
    earlier: Sequence[Pair], latest: Sequence[Pair], shop: str
) -> tuple[Notice, ...]:
    before = correction_from(earlier, shop=shop)
    slipped = {id(pair) for pair in slipped_tapes([*earlier, *latest])}
    sound = [pair for pair in latest if id(pair) not in slipped]
    if len(sound) < _LEAST_LATEST:
        return ()
    table = differences_of(sound)
    variances = (before.scale * table.photo_sd_mm) ** 2 + table.tape_sd_mm**2
    mean_mm = float(table.value_mm.mean()) - before.offset_mm
    sd_mm = math.sqrt(
        before.offset_sd_mm**2 + HABIT_SD_MM**2 + float(variances.sum()) / len(sound) ** 2
    )
    notices = []
    if 2 * float(ndtr(-abs(mean_mm) / sd_mm)) < _P:
        word = "longer" if mean_mm > 0 else "shorter"
        notices.append(
            Notice(
                "pairs_moved",
                f"The last {len(sound)} photos read {abs(mean_mm):.0f} mm {word} against the tape"
                f" than the {len(earlier)} before them. Look at what changed: the printed sheet,"
                " the wall, the camera, or who holds the tape.",
            )
        )
    # About the weighted mean, about which alone the sum follows chi-square.
    residual_mm = table.value_mm - np.average(table.value_mm, weights=1 / variances)
    if chdtrc(len(sound) - 1, float((residual_mm**2 / variances).sum())) < _P:
        notices.append(
            Notice(
                "pairs_spread",
                f"The last {len(sound)} pairs scatter more than photo and tape say they should."
                " Look at each of them again.",
            )
        )
    return tuple(notices)


def _new_kinds(earlier: Sequence[Pair], latest: Sequence[Pair]) -> tuple[Notice, ...]:
    notices = []
    known = {pair.reference for pair in earlier}
    new = sorted({pair.reference or "several" for pair in latest if pair.reference not in known})
    if new:
        notices.append(
            Notice(
                "pairs_new_object",
                f"New in the last pairs: photos with {', '.join(new)}. The earlier pairs say"
                " nothing of these yet.",
            )
        )
    shortest_mm = min(pair.tape.mean_mm for pair in earlier)
    longest_mm = max(pair.tape.mean_mm for pair in earlier)
    reach_mm = 0.1 * longest_mm
    beyond = [
        pair.name
        for pair in latest
        if not shortest_mm - reach_mm <= pair.tape.mean_mm <= longest_mm + reach_mm
    ]
    if beyond:
        notices.append(
            Notice(
                "pairs_new_length",
                f"Legs shorter or longer than in the pairs before: {', '.join(beyond)}.",
            )
        )
    return tuple(notices)
