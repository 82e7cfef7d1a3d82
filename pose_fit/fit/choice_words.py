"""The choice among bicycles in a few sentences, built once for every language."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from pose_fit.fit.choice import Choice, NoneFits
from pose_fit.fit.judge import Fit
from pose_fit.fit.words import feet_text
from pose_fit.metrology.units import Unit, both_units

__all__ = ["CHOICE_IN_ENGLISH", "ChoiceTexts", "choice_text", "is_first_later", "is_next_size"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceTexts:
    """What is said of a choice in one language; ``word``, ``feet`` and ``to_do`` say it of one fit."""

    best: str
    runner_up: str
    runner_up_larger: str
    may_fit: str
    not_in_stock: str
    none_fits: str
    all_too_big: str
    all_outgrown: str
    no_other_fits: str
    look_for: str
    next_size: str
    next_size_fits: str
    first_later: str
    word: Callable[[Fit], str]
    feet: Callable[[Fit], str]
    to_do: Callable[[Fit], str]


CHOICE_IN_ENGLISH: Final = ChoiceTexts(
    best="{name}: {word}. {feet} It lasts until the legs are about {room} longer.",
    runner_up="Runner-up: {name}, {word}.",
    runner_up_larger="Runner-up, and the next size up: {name}, {word}.",
    may_fit="{name} may fit. First {to_do}.",
    not_in_stock="{name} would fit but is not in stock.",
    none_fits="None of these fits for sure.",
    all_too_big="All of these are still too big.",
    all_outgrown="The child has outgrown all of these.",
    no_other_fits="None of the others fits for sure.",
    look_for="Look for a standover height between {low} and {high}.",
    next_size="Next size up: {name}, from an inseam of {inseam}.",
    next_size_fits="Next size up: {name}, which fits already ({word}).",
    first_later="The first to fit later: {name}, from an inseam of {inseam}.",
    word=lambda fit: fit.shown,
    feet=feet_text,
    to_do=lambda fit: fit.to_do,
)


def choice_text(
    choice: Choice | NoneFits, *, unit: Unit = "in", texts: ChoiceTexts = CHOICE_IN_ENGLISH
) -> str:
    """Best, runner-up and next size, or what to do instead; lengths in ``unit`` first."""
    if isinstance(choice, NoneFits):
        sentences = _none_fits(choice, unit, texts)
    else:
        sentences = _best(choice, unit, texts)
    return " ".join([*sentences, *_next_size(choice, unit, texts)])


def _best(choice: Choice, unit: Unit, texts: ChoiceTexts) -> list[str]:
    best, second = choice.best, choice.runner_up
    sentences = [
        texts.best.format(
            name=best.bicycle.name,
            word=texts.word(best),
            feet=texts.feet(best),
            room=both_units(best.room_to_grow_mm, unit),
        )
    ]
    if second is not None:
        words = texts.runner_up_larger if is_next_size(second, choice) else texts.runner_up
        sentences.append(words.format(name=second.bicycle.name, word=texts.word(second)))
    return sentences


def _none_fits(choice: NoneFits, unit: Unit, texts: ChoiceTexts) -> list[str]:
    first, absent = choice.settle_first, choice.not_in_stock
    sentences = []
    if first is not None:
        sentences.append(texts.may_fit.format(name=first.bicycle.name, to_do=texts.to_do(first)))
    if absent is not None:
        sentences.append(texts.not_in_stock.format(name=absent.bicycle.name))
    none = {"too big": texts.all_too_big, "outgrown": texts.all_outgrown, None: texts.none_fits}
    sentences.append(texts.no_other_fits if sentences else none[choice.all_are])
    low, high = (both_units(length_mm, unit) for length_mm in choice.wanted_standover_mm)
    return [*sentences, texts.look_for.format(low=low, high=high)]


def is_next_size(fit: Fit, choice: Choice) -> bool:
    """Whether this bicycle is the next size up, which then need not be told again."""
    return choice.next_size is not None and choice.next_size.fit is fit


def is_first_later(choice: Choice | NoneFits) -> bool:
    """Whether the next size is the first to fit at all: nothing fits, and nothing is to be settled."""
    return isinstance(choice, NoneFits) and choice.settle_first is None


def _next_size(choice: Choice | NoneFits, unit: Unit, texts: ChoiceTexts) -> list[str]:
    following = choice.next_size
    if following is None:
        return []
    fit = following.fit
    if isinstance(choice, Choice) and fit is choice.runner_up:
        # Told with the runner-up.
        return []
    if fit.recommended:
        return [texts.next_size_fits.format(name=fit.bicycle.name, word=texts.word(fit))]
    words = texts.first_later if is_first_later(choice) else texts.next_size
    inseam = both_units(following.wanted_inseam_mm, unit)
    return [words.format(name=fit.bicycle.name, inseam=inseam)]
