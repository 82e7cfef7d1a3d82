"""Everything that is said to one asker, put together once for text and JSON."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from pose_fit.anthropometry.child import Child
from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.fit.choice import Choice, NoneFits, choose, rank, wanted_standover_mm
from pose_fit.fit.judge import Fit, judge
from pose_fit.fit.policy import Rider
from pose_fit.fit.stock import Stock
from pose_fit.growth.lasting import Lasting, forecast_of, lasting
from pose_fit.inseam.inseam import Inseam, Method
from pose_fit.inseam.other_soles import with_other_soles
from pose_fit.notice_codes import NoticeCode
from pose_fit.report.contradiction import TAPE_DISAGREES

__all__ = ["GUIDES", "Answer", "HowSure", "answer_of", "how_sure_of"]

HowSure = Literal["sure", "fairly sure", "unsure"]

#: Chances from which an answer is called sure, or fairly sure.
_SURE: Final[Mapping[HowSure, float]] = {"sure": 0.95, "fairly sure": 0.8}
#: Age and body height only guide, so no answer from them alone is called sure.
GUIDES: Final[frozenset[Method]] = frozenset({"age", "stature"})
#: One of the readings is wrong, and nobody knows which: a question, not an answer.
_DISAGREE: Final[frozenset[NoticeCode]] = TAPE_DISAGREES | {"readings_disagree"}


@dataclass(frozen=True, slots=True)
class Answer:
    """The inseam of today, every bicycle judged by it, best first, and which to choose.

    Attributes
    ----------
    months
        How long each bicycle serves, in the order of ``fits``; None where the age is not known.
    with_stretch
        Bicycles in stock that only a family that stretches would be recommended.
    """

    inseam: Inseam
    fits: tuple[Fit, ...]
    months: tuple[Lasting | None, ...]
    choice: Choice | NoneFits
    with_stretch: tuple[Bicycle, ...]

    @property
    def is_disputed(self) -> bool:
        """Whether one of the readings is wrong, and nobody knows which."""
        return any(warning.code in _DISAGREE for warning in self.inseam.warnings)

    @property
    def wanted_standover_mm(self) -> tuple[float, float]:
        """Lowest and highest standover to look for elsewhere."""
        first = self.fits[0]
        return wanted_standover_mm(self.inseam, rider=first.rider, policy=first.policy)

    @property
    def how_sure(self) -> HowSure:
        """That the bicycle named first fits, or that none of those in stock does."""
        if isinstance(self.choice, Choice):
            return how_sure_of(self.choice.best)
        if self.choice.not_in_stock is not None and self.choice.settle_first is None:
            return how_sure_of(self.choice.not_in_stock)
        here = [fit for fit in self.fits if fit.bicycle.in_stock is not False] or self.fits
        return _least_sure(here, none_fits=True)


def how_sure_of(fit: Fit) -> HowSure:
    """That this bicycle fits; unsure where a better measurement could turn the answer.

    Sure only if it would be sure with any soles, where nobody said what was on the feet.
    """
    return "unsure" if fit.unsure or not fit.recommended else _least_sure((fit,))


def _least_sure(fits: Sequence[Fit], *, none_fits: bool = False) -> HowSure:
    """The word for these fits, one lower where it hangs on soles that nobody stated."""

    def word(fits: Sequence[Fit]) -> HowSure:
        likeliest = max(fit.fitting for fit in fits)
        return _word(1 - likeliest if none_fits else likeliest, fits[0].inseam)

    first, told = fits[0], word(fits)
    if told != "sure":
        return told
    bicycles = [fit.bicycle for fit in fits]
    for inseam in with_other_soles(first.inseam):
        if word(judge(inseam, bicycles, rider=first.rider, policy=first.policy)) != "sure":
            return "fairly sure"
    return told


def _word(chance: float, inseam: Inseam) -> HowSure:
    if any(warning.code in _DISAGREE for warning in inseam.warnings):
        return "unsure"
    for word, least in _SURE.items():
        if chance >= least and not (word == "sure" and inseam.method in GUIDES):
            return word
    return "unsure"


def answer_of(inseam: Inseam, stock: Stock, rider: Rider, child: Child) -> Answer | None:
    """Judge the stock for a child with this inseam today; None where there is no stock."""
    if not stock:
        return None
    fits = stock.judged(inseam, rider)
    ranked = rank(fits)
    months: tuple[Lasting | None, ...] = (None,) * len(ranked)
    if child.age_y is not None:
        months = lasting(ranked, forecast_of(inseam, child))
    return Answer(inseam, ranked, months, choose(fits), _with_stretch(fits, stock, inseam, rider))


def _with_stretch(
    fits: Sequence[Fit], stock: Stock, inseam: Inseam, rider: Rider
) -> tuple[Bicycle, ...]:
    stretched = replace(stock, policy=replace(stock.policy, stretch=True)).judged(inseam, rider)
    return tuple(
        more.bicycle
        for fit, more in zip(fits, stretched, strict=True)
        if more.recommended and not fit.recommended and more.bicycle.in_stock is not False
    )
