"""What pairs of photo and tape show, put together once for command line and shop page."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from pose_fit.pairs.agreement import Agreement, agreement, agreement_by_group, odd_pairs
from pose_fit.pairs.correction import Correction, correction_from, slipped_tapes
from pose_fit.pairs.pair import Pair
from pose_fit.pairs.pair_texts import ENGLISH
from pose_fit.pairs.pair_words import (
    bias_words,
    coverage_words,
    group_words,
    limits_words,
    off_by,
    second_look,
    spread_words,
)
from pose_fit.pairs.range_check import range_notices
from pose_fit.refusal import Notice

__all__ = ["PairsSummary", "summary_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PairsSummary:
    """All that the pairs of a shop show.

    Attributes
    ----------
    whole, groups
        Photo against tape, together and by what the pairs have in common.
    in_this_shop
        Whether all pairs are this shop's own.
    odd
        Pairs for a second look.
    correction
        What they do to the shop's estimates.
    notices
        Where new pairs leave the range of the earlier ones.
    """

    whole: Agreement
    groups: tuple[Agreement, ...]
    in_this_shop: bool
    odd: tuple[Pair, ...]
    correction: Correction
    notices: tuple[Notice, ...]

    @property
    def lines(self) -> list[str]:
        """The same as text, the answer first."""
        whole = self.whole
        lines = [bias_words(whole, in_this_shop=self.in_this_shop), self.correction.words()]
        lines += [f"Note: {notice.message}" for notice in self.notices]
        lines += [spread_words(whole), limits_words(whole), coverage_words(whole)]
        if self.odd:
            lines.append("Look at these again:")
            lines += [f"  {second_look(pair)}" for pair in self.odd]
        if self.groups:
            lines.append("By group:")
            for group in self.groups:
                where = f"{group_words(group)}, {ENGLISH.count_of(group.count)}"
                told = [off_by(group, where), spread_words(group), coverage_words(group)]
                lines.append("  " + " ".join(filter(None, told)))
        return [line for line in lines if line]

    def record(self) -> dict[str, Any]:
        """Plain values for JSON, millimetres."""
        return {
            "agreement": asdict(self.whole) | {"limits_mm": self.whole.limits_mm},
            "groups": [asdict(group) | {"limits_mm": group.limits_mm} for group in self.groups],
            "second_look": [
                {"name": pair.name, "difference_mm": round(pair.difference_mm, 1)}
                for pair in self.odd
            ],
            "correction": asdict(self.correction),
            "notices": [asdict(notice) for notice in self.notices],
        }


def summary_of(pairs: Sequence[Pair], *, shop: str = "") -> PairsSummary:
    """What these pairs show to one shop.

    Raises
    ------
    ValueError
        No pair.
    """
    named = {id(pair) for pair in (*odd_pairs(pairs), *slipped_tapes(pairs))}
    return PairsSummary(
        whole=agreement(pairs),
        groups=agreement_by_group(pairs),
        in_this_shop={pair.shop for pair in pairs} == {shop},
        odd=tuple(pair for pair in pairs if id(pair) in named),
        correction=correction_from(pairs, shop=shop),
        notices=range_notices(pairs, shop=shop),
    )
