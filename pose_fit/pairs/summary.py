"""What pairs of photo and tape show, put together once for command line and shop page."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from pose_fit.pairs.agreement import Agreement, agreement, agreement_by_group, odd_pairs
from pose_fit.pairs.correction import Correction, correction_from, slipped_tapes
from pose_fit.pairs.pair import Pair
from pose_fit.pairs.range_check import range_notices
from pose_fit.refusal import Notice

__all__ = ["PairsSummary", "bias_words", "second_look", "spread_words", "summary_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PairsSummary:
    """All that the pairs of a shop show.

    Attributes
    ----------
    whole, groups
        Photo against tape, together and by what the pairs have in common.
    odd
        Pairs for a second look.
    correction
        What they do to the shop's estimates.
    notices
        Where new pairs leave the range of the earlier ones.
    """

    whole: Agreement
    groups: tuple[Agreement, ...]
    odd: tuple[Pair, ...]
    correction: Correction
    notices: tuple[Notice, ...]

    @property
    def lines(self) -> list[str]:
        """The same as text, the answer first."""
        lines = [bias_words(self.whole), spread_words(self.whole), self.correction.words]
        lines += [f"Note: {notice.message}" for notice in self.notices]
        if self.odd:
            lines.append("Look at these again:")
            lines += [f"  {second_look(pair)}" for pair in self.odd]
        if self.groups:
            lines.append("By group:")
            lines += [f"  {bias_words(group)} {spread_words(group)}" for group in self.groups]
        return lines

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
        odd=tuple(pair for pair in pairs if id(pair) in named),
        correction=correction_from(pairs, shop=shop),
        notices=range_notices(pairs, shop=shop),
    )


def bias_words(found: Agreement) -> str:
    """The answer first: "38 children: photos read 2 mm longer than the tape (-1 to +5 mm)."."""
    children = "1 child" if found.count == 1 else f"{found.count} children"
    words = f"{found.group}, {children}" if found.group else children
    apart_mm = round(found.bias_mm)
    if apart_mm == 0:
        words += ": photos read as the tape does"
    else:
        word = "longer" if apart_mm > 0 else "shorter"
        words += f": photos read {abs(apart_mm)} mm {word} than the tape"
    if found.bias95_mm is not None:
        words += f" ({found.bias95_mm[0]:+.0f} to {found.bias95_mm[1]:+.0f} mm)"
    return words + "."


def spread_words(found: Agreement) -> str:
    """Spread and coverage: of one pair no spread is known."""
    words = ""
    if found.sd_mm is not None and found.sd95_mm is not None:
        low_mm, high_mm = found.sd95_mm
        words = f"Single children differ by {found.sd_mm:.0f} mm ({low_mm:.0f} to {high_mm:.0f}). "
    low, high = (100 * share for share in found.coverage95)
    return words + (
        f"{found.covered} of {found.count} lie within the interval that was stated"
        f" ({low:.0f} to {high:.0f} %; 95 % is promised)."
    )


def second_look(pair: Pair) -> str:
    """Why a pair is looked at again, and what to look at."""
    word = "longer" if pair.difference_mm > 0 else "shorter"
    return (
        f"{pair.name}: the photo is {abs(pair.difference_mm):.0f} mm {word} than the tape of"
        f" {pair.day} by {pair.taken_by}. Was the tape read at the right end and written down"
        " right, and is it the same child?"
    )
