"""What photo against tape shows, in sentences."""

from collections.abc import Mapping

from pose_fit.pairs.agreement import Agreement, Grouping
from pose_fit.pairs.pair import Pair
from pose_fit.pairs.pair_texts import ENGLISH, PairTexts

__all__ = [
    "bias_words",
    "coverage_words",
    "group_words",
    "limits_words",
    "off_by",
    "second_look",
    "signed",
    "spread_words",
]


def bias_words(found: Agreement, texts: PairTexts = ENGLISH, *, in_this_shop: bool = True) -> str:
    """The answer first: "In this shop, 38 children: off by 2 ± 1 mm. Photos read too long."."""
    where = texts.here if in_this_shop else texts.all_shops
    told = [off_by(found, where.format(children=texts.count_of(found.count)), texts)]
    if round(found.bias_mm) != 0:
        told.append(texts.too_long if found.bias_mm > 0 else texts.too_short)
        # Of a single pair nothing tells chance from a fault.
        if found.bias95_mm is None or found.bias95_mm[0] <= 0 <= found.bias95_mm[1]:
            told.append(texts.perhaps_chance)
    return " ".join(told)


def off_by(found: Agreement, where: str, texts: PairTexts = ENGLISH) -> str:
    """By how much photos are off, with half of the exact 95 % interval."""
    apart = f"{abs(found.bias_mm):.0f}"
    if found.bias95_mm is None:
        return texts.bias_of_one.format(where=where, apart=apart)
    half = _half_words((found.bias95_mm[1] - found.bias95_mm[0]) / 2)
    return texts.bias.format(where=where, apart=apart, half=half)


def spread_words(found: Agreement, texts: PairTexts = ENGLISH) -> str:
    """How children differ, with the exact interval; empty for a single pair."""
    if found.sd_mm is None or found.sd95_mm is None:
        return ""
    if round(found.sd_mm) == 0:
        return texts.spread_small
    low, high = (f"{end_mm:.0f}" for end_mm in found.sd95_mm)
    return texts.spread.format(sd=f"{found.sd_mm:.0f}", low=low, high=high)


def limits_words(found: Agreement, texts: PairTexts = ENGLISH) -> str:
    """The limits of agreement; empty for a single pair."""
    if found.limits_mm is None:
        return ""
    low, high = (signed(end_mm) for end_mm in found.limits_mm)
    return texts.limits.format(low=low, high=high)


def coverage_words(found: Agreement, texts: PairTexts = ENGLISH) -> str:
    """How many of the stated intervals hold, with the exact interval of their share."""
    low, high = (f"{100 * share:.0f}" for share in found.coverage95)
    return texts.covered.format(covered=found.covered, count=found.count, low=low, high=high)


def signed(difference_mm: float) -> str:
    """Whole millimetres with their sign; never -0."""
    return f"{round(difference_mm):+d}"


def second_look(pair: Pair, texts: PairTexts = ENGLISH, *, name: str = "", day: str = "") -> str:
    """Why a pair is looked at again, and what to look at."""
    apart = texts.look_longer if pair.difference_mm > 0 else texts.look_shorter
    return texts.second_look.format(
        name=name or pair.name,
        apart=apart.format(apart=f"{abs(pair.difference_mm):.0f}"),
        day=day or str(pair.day),
        holder=pair.taken_by,
    )


def group_words(found: Agreement, texts: PairTexts = ENGLISH) -> str:
    """What the pairs of a group have in common; empty for all pairs together."""
    if found.grouping is None:
        return ""
    names: dict[Grouping, Mapping[str, str]] = {
        "object": {**texts.objects, "": texts.several_objects},
        "legwear": {**texts.legwear, "": texts.not_said},
        "care": texts.cares,
    }
    name = names.get(found.grouping, {}).get(found.group, found.group) or texts.not_said
    return texts.group.format(what=texts.groupings[found.grouping], name=name)


def _half_words(half_mm: float) -> str:
    """Never ± 0: no bias is known that well."""
    return f"{max(half_mm, 1.0):.0f}"
