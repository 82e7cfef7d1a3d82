"""Results as plain text for a terminal: the answer first, one table, the rest behind ``--details``."""

import math
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from pose_fit.checks.retake import advising_notice
from pose_fit.fit.cautions import told_cautions
from pose_fit.fit.choice import Choice, NextSize, NoneFits
from pose_fit.fit.choice_words import is_first_later, is_next_size
from pose_fit.fit.feet import Feet
from pose_fit.fit.judge import Fit
from pose_fit.fit.shown import Shown
from pose_fit.fit.words import GENERAL_CAUTIONS, cautions, reasons, settle_text
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam, Method
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.metrology.units import (
    Unit,
    both_units,
    length_text,
    small_text,
    with_unit_first,
)
from pose_fit.refusal import Notice, Refusal, told_once
from pose_fit.report.answer import GUIDES, Answer
from pose_fit.report.asks import terminal_advice, terminal_remedies

__all__ = ["answer_lines", "detail_lines", "inseam_lines", "refused_lines", "short_line"]

WIDTH: Final = 80
#: Lines of an answer, rows of its table at least, and notes above it; the rest is in ``--details``.
MOST_LINES: Final = 27
_LEAST_ROWS: Final = 3
#: Names below the table, of all lists together; where there are more, the first of each.
_MOST_NAMED: Final = 26
_FIRST_NAMED: Final = 6
_MOST_NOTES: Final = 3

_BY: Final[dict[Method, str]] = {
    "photo": "by photo",
    "tape": "by tape",
    "trousers": "from trousers",
    "lift": "from lifting a bicycle",
    "stature": "guessed from the body height",
    "age": "guessed from the age",
    "combined": "from all that was given",
    "stated": "as stated",
}
_NONE_FITS: Final = {
    "too big": "All of these are still too big.",
    "outgrown": "The child has outgrown all of these.",
    None: "None of these fits.",
}
_FITS: Final[dict[Shown, str]] = {
    "good": "fits",
    "roomy": "fits, with room to spare",
    "tight": "is a little big, to grow into",
}
_TO_DO: Final[dict[Shown, str]] = {
    "good": "try it: good",
    "roomy": "try it: roomy",
    "tight": "try it: tight",
    "measure this bicycle": "measure this bicycle",
    "measure the child again": "measure the child again",
    "try with an adult holding it": "try, an adult holding it",
}
_FEET: Final[dict[Feet | None, str]] = {
    "both feet flat": "flat",
    "tiptoes": "tiptoe",
    "perhaps tiptoes": "tiptoe?",
    "not at the lowest saddle": "no",
    None: "?",
}
_NAME_WIDTH: Final = 22
#: What is not in the table, by the words that stand on it.
_LISTS: Final[tuple[tuple[str, Shown], ...]] = (
    ("The top tube touches", "touching"),
    ("Too big", "too big"),
    ("Outgrown", "outgrown"),
)
#: Told with the caution that every advice carries: both say how to stand over the bicycle.
_SLOPING: Final = "sloping_top_tube"
_CAUTION: Final = (
    "An adult holds the bicycle while the child stands over it, both feet flat{where} a helmet on"
    " every ride; local rules; a qualified fitter decides."
)
_AHEAD_OF_SADDLE: Final = ", just ahead of the saddle: further forward the top tube is higher;"


def answer_lines(answer: Answer, *, unit: Unit) -> list[str]:
    """What to do, how sure, runner-up and cautions; then the table, and what is too big or small."""
    top, lists = list(_top(answer, unit)), list(_lists(answer))
    room = MOST_LINES - len(top) - len(lists)
    return [*top, "", *_table(answer, unit, room), *lists]


def _top(answer: Answer, unit: Unit) -> Iterator[str]:
    choice, inseam = answer.choice, answer.inseam
    notes = list(told_once(inseam.warnings))
    yield from _wrapped(_verdict(answer), unit)
    yield from _wrapped(f"How sure: {answer.how_sure}. {_inseam_text(inseam, unit)}", unit)
    if isinstance(choice, Choice):
        surer = settle_text(choice.best) if choice.best.unsure else None
        marked = list(told_cautions(choice.best))
    else:
        surer, marked = None, []
    if surer is not None:
        yield from _wrapped(surer, unit)
    elif inseam.retake:
        yield from _wrapped(f"Surer still: {_first_advice(inseam.retake[0], notes)}", unit)
    others = _others(choice)
    if others:
        yield from _wrapped(others, unit)
    slopes = any(notice.code == _SLOPING for notice in marked)
    marked = [notice for notice in marked if notice.code != _SLOPING]
    yield from _notes(notes, marked, unit)
    yield from _wrapped(_caution(slopes=slopes), unit)


def _first_advice(advice: str, notes: list[Notice]) -> str:
    """What to do first; a note that asks for the same takes its place, and leaves the notes."""
    same = advising_notice(notes, advice)
    if same is None:
        return terminal_advice(advice)
    notes.remove(same)
    return same.message


def _caution(*, slopes: bool) -> str:
    """How to try the bicycle; where its top tube rises, where to stand too."""
    return _CAUTION.format(where=_AHEAD_OF_SADDLE if slopes else ";")


def _verdict(answer: Answer) -> str:
    choice = answer.choice
    if isinstance(choice, Choice):
        best = choice.best
        if answer.is_disputed:
            return f"{best.bicycle.name} probably fits, but the readings disagree: measure again first."
        if answer.inseam.method in GUIDES:
            return f"{best.bicycle.name} probably fits: measure the inseam first."
        return f"{best.bicycle.name} {_FITS[best.shown]}: {best.to_do}."
    first, absent = choice.settle_first, choice.not_in_stock
    if first is not None:
        return f"None of these is cleared yet. First {first.bicycle.name}: {first.to_do}."
    if absent is not None:
        return f"{absent.bicycle.name} would fit but is not in stock. {_look_for(choice)}"
    return f"{_NONE_FITS[choice.all_are]} {_look_for(choice)}"


def _look_for(choice: NoneFits) -> str:
    return _standover_text(choice.wanted_standover_mm)


def _standover_text(wanted_mm: tuple[float, float]) -> str:
    low_mm, high_mm = wanted_mm
    return f"Look for a standover height of {both_units(low_mm)} to {both_units(high_mm)}."


def _others(choice: Choice | NoneFits) -> str:
    parts, following = [], choice.next_size
    if isinstance(choice, Choice) and choice.runner_up is not None:
        second = choice.runner_up
        is_larger = is_next_size(second, choice)
        title = "Runner-up, and the next size up" if is_larger else "Runner-up"
        parts.append(f"{title}: {second.bicycle.name} ({second.shown}).")
        following = None if is_larger else following
    if isinstance(choice, NoneFits) and choice.settle_first and choice.not_in_stock:
        parts.append(f"{choice.not_in_stock.bicycle.name} would fit but is not in stock.")
    if following is not None:
        parts.append(_next_size(following, choice))
    return " ".join(parts)


def _next_size(following: NextSize, choice: Choice | NoneFits) -> str:
    fit = following.fit
    title = "The first to fit later" if is_first_later(choice) else "Next size up"
    if fit.recommended:
        when = f"which fits already ({fit.shown})"
    else:
        when = f"from an inseam of {both_units(following.wanted_inseam_mm)}"
    absent = " (not in stock)" if fit.bicycle.in_stock is False else ""
    return f"{title}: {fit.bicycle.name}{absent}, {when}."


def _notes(warnings: Sequence[Notice], marked: Sequence[Notice], unit: Unit) -> Iterator[str]:
    told = [f"Note: {notice.message}" for notice in warnings]
    told += [f"Caution: {notice.message}" for notice in marked]
    for line in told[:_MOST_NOTES]:
        yield from _wrapped(line, unit)
    if len(told) > _MOST_NOTES:
        yield f"And {len(told) - _MOST_NOTES} more to know: --details."


def _table(answer: Answer, unit: Unit, room: int) -> Iterator[str]:
    """At most so many lines, with the blank one before them."""
    rows = [
        (fit, months)
        for fit, months in zip(answer.fits, answer.months, strict=True)
        if fit.shown in _TO_DO
    ]
    if not rows:
        return
    yield _row("Bicycle", "What to do", "Clearance", "Contact", "Seated", "Months")
    # The blank line, the header and the line that counts what is left out.
    most = len(rows) if len(rows) + 2 <= room else max(room - 3, _LEAST_ROWS)
    for fit, months in rows[:most]:
        clearance = length_text(fit.clearance_mm, unit) if fit.bicycle.has_top_tube else "no tube"
        yield _row(
            _short(fit.bicycle.name, is_here=fit.bicycle.in_stock is not False),
            _TO_DO[fit.shown],
            clearance,
            _contact(fit),
            _FEET[fit.feet],
            _months(months),
        )
    if len(rows) > most:
        yield f"and {len(rows) - most} more, less likely to fit: --details"


def _short(name: str, *, is_here: bool) -> str:
    """A name in the table's width, with a star where it is not in stock."""
    width = _NAME_WIDTH if is_here else _NAME_WIDTH - 2
    short = name if len(name) <= width else f"{name[: width - 1]}…"
    return short if is_here else f"{short} *"


def _row(name: str, to_do: str, clearance: str, contact: str, feet: str, months: str) -> str:
    return f"{name:<{_NAME_WIDTH}} {to_do:<24} {clearance:>9} {contact:>7} {feet:>7} {months:>6}".rstrip()


def _contact(fit: Fit) -> str:
    # Without a top tube nothing touches; the column beside it tells of the feet.
    if not fit.bicycle.has_top_tube:
        return "-"
    percent = 100 * fit.probabilities["contact"]
    if percent < 1:
        return "< 1 %"
    return "> 99 %" if percent > 99 else f"{percent:.0f} %"


def _months(months: Lasting | None) -> str:
    if months is None:
        return "?"
    return f"{months.outgrown_months:.0f}" if math.isfinite(months.outgrown_months) else "> 36"


def _lists(answer: Answer) -> Iterator[str]:
    if any(fit.bicycle.in_stock is False and fit.shown in _TO_DO for fit in answer.fits):
        yield "* not in stock"
    listed = {
        title: [fit.bicycle.name for fit in answer.fits if fit.shown == word]
        for title, word in _LISTS
    }
    is_long = sum(map(len, listed.values())) > _MOST_NAMED
    for title, names in listed.items():
        if names:
            yield from _wrapped(f"{title}: {_named(names, short=is_long)}.", "in")
    if answer.with_stretch:
        more = _named([bicycle.name for bicycle in answer.with_stretch], short=True)
        line = f"To grow into, with less to spare than usual: {more} (--stretch)."
        yield from _wrapped(line, "in")
    has_table = any(fit.shown in _TO_DO for fit in answer.fits)
    if has_table and all(months is None for months in answer.months):
        yield "With --age the table says for how many months each will fit."


def _named(names: Sequence[str], *, short: bool) -> str:
    """The names, of a long list the first ones: those nearest to fit."""
    if not short or len(names) <= _FIRST_NAMED:
        return ", ".join(names)
    return f"{', '.join(names[:_FIRST_NAMED])} and {len(names) - _FIRST_NAMED} more"


def inseam_lines(
    inseam: Inseam, *, unit: Unit, wanted_standover_mm: tuple[float, float] | None = None
) -> list[str]:
    """An inseam alone: the value, which standover to look for, what to note, what would be surer."""
    lines = [*_wrapped(_inseam_text(inseam, unit), unit)]
    if wanted_standover_mm is not None:
        lines += _wrapped(_standover_text(wanted_standover_mm), unit)
    notes = list(told_once(inseam.warnings))
    surer = [_first_advice(advice, notes) for advice in inseam.retake[:1]]
    for notice in notes:
        lines += _wrapped(f"Note: {notice.message}", unit)
    for advice in surer:
        lines += _wrapped(f"Surer still: {advice}", unit)
    return lines


def short_line(name: str, inseam: Inseam, *, unit: Unit) -> str:
    """One of several photos of a child."""
    half_mm = COVERAGE_FACTOR_95 * inseam.sd_mm
    return f"{name}: {both_units(inseam.mean_mm, first=unit)} ± {length_text(half_mm, unit)}"


def refused_lines(title: str, refusal: Refusal, *, unit: Unit, has_tape: bool = False) -> list[str]:
    """What cannot be said, why, and what to do instead; the tape unless it was used."""
    lines = [title]
    for reason in refusal.reasons:
        lines += _wrapped(f"Why: {reason.message}", unit)
    for remedy in terminal_remedies(refusal):
        lines += _wrapped(f"Instead: {remedy}", unit)
    if has_tape:
        return lines
    lines += _wrapped(
        "Or use a tape: book between the legs, from its top edge to the floor; then pose-fit"
        " advise --inseam LENGTH --bikes CSV.",
        unit,
    )
    return lines


def detail_lines(inseam: Inseam, answer: Answer | None, *, unit: Unit) -> list[str]:
    """All that is known: interval, sources, every bicycle with its reasons."""
    low_mm, high_mm = (both_units(end) for end in inseam.interval95_mm)
    lines = ["Details", *_wrapped(f"95 % interval of the inseam: {low_mm} to {high_mm}.", unit)]
    lines.append("What makes it unsure, as standard uncertainties:")
    lines += [f"  {source}: {small_text(sd_mm, unit)}" for source, sd_mm in _by_source(inseam)]
    for warning in inseam.warnings:
        lines += _wrapped(f"Note: {warning.message}", unit)
    for advice in inseam.retake:
        lines += _wrapped(f"Surer still: {terminal_advice(advice)}", unit)
    if answer is None:
        return lines
    for fit, months in zip(answer.fits, answer.months, strict=True):
        lines += ["", *_of_one_bicycle(fit, months, unit)]
    lines.append("")
    for caution in GENERAL_CAUTIONS:
        lines += _wrapped(caution, unit)
    return lines


def _by_source(inseam: Inseam) -> list[tuple[str, float]]:
    """Each source once, largest first: what is shared and what is not are one to a reader."""
    squares: dict[str, float] = {}
    for line in inseam.length.budget:
        squares[line.source] = squares.get(line.source, 0.0) + line.sd_mm**2
    sources = [(source, math.sqrt(square)) for source, square in squares.items()]
    return sorted(sources, key=lambda source: source[1], reverse=True)


def _of_one_bicycle(fit: Fit, months: Lasting | None, unit: Unit) -> Iterator[str]:
    yield f"{fit.bicycle.name} ({fit.bicycle.tyre.marking}): {fit.shown}"
    told = [fit.advice.why, f"What to do: {fit.to_do}."]
    if fit.bicycle.has_top_tube:
        low_mm, high_mm = fit.clearance_interval95_mm
        told.append(
            f"Above the top tube: {both_units(fit.clearance_mm)}, between {both_units(low_mm)} and"
            f" {both_units(high_mm)}."
        )
    told += [reason.message for reason in reasons(fit, audience="staff", unit=unit)]
    told += [f"Caution: {caution.message}" for caution in cautions(fit)]
    if fit.unsure:
        told.append(settle_text(fit, audience="staff", unit=unit))
    if fit.bicycle.in_stock is False:
        told.append("Not in stock.")
    if months is not None and fit.recommended:
        told.append(_lasts(months))
    for text in dict.fromkeys(told):
        yield from _wrapped(text, unit, indent="  ")


def _lasts(months: Lasting) -> str:
    if not math.isfinite(months.outgrown_months):
        return "At a usual pace of growth it lasts more than three years."
    soonest, latest = months.window80_months
    until = f"{latest:.0f}" if math.isfinite(latest) else "over 36"
    return (
        f"At a usual pace of growth it lasts about {months.outgrown_months:.0f} months"
        f" ({soonest:.0f} to {until})."
    )


def _inseam_text(inseam: Inseam, unit: Unit) -> str:
    half_mm = COVERAGE_FACTOR_95 * inseam.sd_mm
    return (
        f"Inseam {_BY[inseam.method]}: {both_units(inseam.mean_mm)}, give or take"
        f" {length_text(half_mm, unit)}."
    )


def _wrapped(text: str, unit: Unit, *, indent: str = "") -> Iterable[str]:
    return textwrap.wrap(
        with_unit_first(text, unit),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "  ",
        break_long_words=False,
        break_on_hyphens=False,
    )
