"""What the pairs of a shop correct: the offset of its photos, and the width of their intervals."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from pose_fit.inseam.error_model import WORLD_SOURCE
from pose_fit.inseam.from_tape import TAPE_CARE, repeatability_sd_mm
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95, Contribution, UncertainLength
from pose_fit.pairs.offset_model import (
    HABIT_SD_MM,
    Differences,
    log_likelihood,
    posterior,
    slip_chances,
)
from pose_fit.pairs.pair import Pair
from pose_fit.pairs.pair_texts import ENGLISH, PairTexts
from pose_fit.pairs.rendered_prior import RENDERED_SD_MM, rendered_sd_mm
from pose_fit.refusal import Notice

__all__ = ["NO_CORRECTION", "Correction", "correction_from", "differences_of", "slipped_tapes"]

#: A tape that more likely slipped than not is named.
_LIKELY: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What is done to a photo's estimate; without pairs, nothing.

    Attributes
    ----------
    pairs
        Pairs behind it, of this shop and of others.
    offset_mm, offset_sd_mm
        By how much photos read too long, and its standard uncertainty.
    scale
        By how much the rest of the stated uncertainty is multiplied.
    """

    pairs: int = 0
    offset_mm: float = 0.0
    offset_sd_mm: float = RENDERED_SD_MM
    scale: float = 1.0

    def applied_to(self, photo: Inseam) -> Inseam:
        """The corrected estimate; the same object where there is no pair.

        The line that stands for rendered children gives way to what the pairs leave unknown.
        """
        if not self.pairs:
            return photo
        line_sd_mm = rendered_sd_mm(photo)
        has_line = any(line.source == WORLD_SOURCE for line in photo.length.budget)
        # Without such a line it is in all the others, in the same proportion.
        others = 1.0 if has_line else math.sqrt(1 - (line_sd_mm / photo.sd_mm) ** 2)
        kept = tuple(
            line.times(others * self.scale)
            for line in photo.length.budget
            if line.source != WORLD_SOURCE
        )
        budget = (*kept, Contribution(WORLD_SOURCE, self.offset_sd_mm, shared=True))
        budget = tuple(sorted(budget, key=lambda line: -line.sd_mm))
        length = UncertainLength(photo.mean_mm - self.offset_mm, budget)
        return replace(photo, length=length).with_warnings(Notice("corrected", self.words()))

    def words(self, texts: PairTexts = ENGLISH) -> str:
        """Which correction this is, in a sentence."""
        if not self.pairs:
            return texts.no_correction
        words = texts.shorter if self.offset_mm > 0 else texts.longer
        if round(self.offset_mm) == 0:
            words = texts.hardly
        return words.format(
            apart=f"{abs(self.offset_mm):.0f}",
            half=f"{COVERAGE_FACTOR_95 * self.offset_sd_mm:.0f}",
            children=texts.count_of(self.pairs),
        )


NO_CORRECTION: Final = Correction()


def correction_from(pairs: Sequence[Pair], *, shop: str = "") -> Correction:
    """The correction for photos of one shop from its pairs, and from those of other shops."""
    if not pairs:
        return NO_CORRECTION
    shops: dict[str, dict[str, list[Pair]]] = {}
    for pair in pairs:
        shops.setdefault(pair.shop, {}).setdefault(_holder(pair), []).append(pair)
    sums = {
        name: [log_likelihood(differences_of(held)).sum(axis=0) for held in holders.values()]
        for name, holders in shops.items()
    }
    own = sums.pop(shop, [])
    found = posterior(own, other_shops=list(sums.values()), prior_sd_mm=_prior_sd_mm(pairs))
    return Correction(
        pairs=len(pairs),
        offset_mm=float(found.offset_mm),
        offset_sd_mm=float(found.offset_sd_mm),
        scale=float(found.scale),
    )


def differences_of(pairs: Sequence[Pair]) -> Differences:
    """The pairs in the form that the model takes."""
    photo_sd_mm = [
        math.sqrt(pair.photo.sd_mm**2 - rendered_sd_mm(pair.photo) ** 2) for pair in pairs
    ]
    tape_sd_mm = [
        math.hypot(
            repeatability_sd_mm(pair.readings_mm, care=pair.care),
            math.sqrt(TAPE_CARE[pair.care].technique_sd_mm ** 2 - HABIT_SD_MM**2),
        )
        for pair in pairs
    ]
    return Differences(
        np.array([pair.difference_mm for pair in pairs]),
        np.array(photo_sd_mm),
        np.array(tape_sd_mm),
    )


def slipped_tapes(pairs: Sequence[Pair]) -> tuple[Pair, ...]:
    """Pairs whose tape more likely slipped or was misread than not."""
    holders: dict[tuple[str, str], list[Pair]] = {}
    for pair in pairs:
        holders.setdefault((pair.shop, _holder(pair)), []).append(pair)
    slipped: set[int] = set()
    for held in holders.values():
        chances = slip_chances(differences_of(held), prior_sd_mm=_prior_sd_mm(pairs))
        slipped |= {
            id(pair) for pair, chance in zip(held, chances, strict=True) if chance > _LIKELY
        }
    return tuple(pair for pair in pairs if id(pair) in slipped)


def _prior_sd_mm(pairs: Sequence[Pair]) -> float:
    """The line of the photos' own budgets; they have the same unless the error model changed."""
    return statistics.median(rendered_sd_mm(pair.photo) for pair in pairs)


def _holder(pair: Pair) -> str:
    return pair.taken_by.strip().casefold()
