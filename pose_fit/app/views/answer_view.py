"""The answer: the bicycle, drawn with this child, its word, how sure, and the inseam."""

from collections.abc import Mapping, Sequence

import streamlit as st

from pose_fit.app.inputs.lengths import length_parts, length_text
from pose_fit.app.style import raw, svg_source
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.fit_texts import FIT
from pose_fit.app.texts.language import in_language, language, unit
from pose_fit.app.views.bicycle_words import feet, how_long, mark_of, room, word
from pose_fit.drawing.bicycle_svg import bicycle_svg
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.fit.choice import Choice, NoneFits
from pose_fit.fit.choice_words import is_first_later, is_next_size
from pose_fit.fit.judge import Fit
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.refusal import Refusal
from pose_fit.report.answer import how_sure_of

__all__ = [
    "badge_of",
    "inseam_words",
    "show_answer",
    "show_bicycle_answer",
    "show_next_to_it",
    "show_no_bicycle",
]


def show_answer(choice: Choice | NoneFits, inseam: Inseam) -> None:
    """Everything that fits on the first screen."""
    say = in_language(FAMILY)
    if isinstance(choice, Choice):
        show_bicycle_answer(choice.best, eyebrow=say.try_first, inseam_label=say.inseam)
    else:
        low_mm, high_mm = choice.wanted_standover_mm
        words = say.none_words.format(low=length_text(low_mm), high=length_text(high_mm))
        title = say.none_yet if choice.settle_first is not None else say.none_titles[choice.all_are]
        show_no_bicycle(title, words, inseam_words(inseam, say.inseam))


def show_bicycle_answer(
    fit: Fit, *, eyebrow: str, inseam_label: str, more: Sequence[str] = ()
) -> None:
    """One bicycle as the answer, ``more`` lines below its words."""
    say = in_language(FAMILY)
    facts = " · ".join(fact for fact in (room(fit), feet(fit)) if fact)
    lines = "".join(f'<p class="pf-quiet">{raw(line)}</p>' for line in (facts, *more))
    words = (
        f'<p class="pf-eyebrow">{raw(eyebrow)}</p><h1 id="pf-answer">{raw(fit.bicycle.name)}</h1>'
        f"<p>{badge_of(fit)}</p>{lines}"
        f'<p class="pf-sure">{raw(say.how_sure)} <strong>{raw(say.sureness[how_sure_of(fit)])}</strong></p>'
    )
    _show(words + inseam_words(fit.inseam, inseam_label), _drawn(fit))


def show_no_bicycle(title: str, words: str, more: str = "") -> None:
    """That there is none, and what to do instead; ``more`` is HTML below it."""
    _show(f'<h1 id="pf-answer">{raw(title)}</h1><p>{raw(words)}</p>{more}', "")


def _show(words: str, drawn: str) -> None:
    st.html(
        f'<section class="pf-answer" aria-labelledby="pf-answer"><div>{words}</div>{drawn}</section>'
    )


def show_next_to_it(choice: Choice | NoneFits, lines: Mapping[str, Lasting]) -> None:
    """Runner-up and next size up; where none fits, the nearest."""
    say = in_language(FAMILY)
    found: list[tuple[str, Fit]] = []
    if isinstance(choice, Choice):
        if choice.runner_up is not None:
            is_larger = is_next_size(choice.runner_up, choice)
            found.append((say.runner_up_larger if is_larger else say.runner_up, choice.runner_up))
    else:
        if choice.settle_first is not None:
            found.append((say.settle_first, choice.settle_first))
        if choice.not_in_stock is not None:
            found.append((say.not_in_stock, choice.not_in_stock))
    next_size = choice.next_size
    if next_size is not None and all(next_size.fit is not fit for _, fit in found):
        title = say.first_later if is_first_later(choice) else say.next_size
        found.append((title, next_size.fit))
    if not found:
        return
    items = "".join(_small(title, fit, lines.get(fit.bicycle.name)) for title, fit in found)
    st.html(
        f'<section aria-labelledby="pf-next"><h2 id="pf-next">{raw(say.next_title)}</h2>'
        f'<ul class="pf-cards">{items}</ul></section>'
    )


def badge_of(fit: Fit) -> str:
    """HTML of a bicycle's word: sign, word and colour together."""
    sign, colour = mark_of(fit)
    return (
        f'<span class="pf-badge" style="background:{colour}"><span aria-hidden="true">{sign}</span>'
        f" {raw(word(fit))}</span>"
    )


def inseam_words(inseam: Inseam, label: str) -> str:
    """HTML of the inseam, the visitor’s unit first, and how far off it may be."""
    first, second = length_parts(inseam.mean_mm)
    half, _ = length_parts(COVERAGE_FACTOR_95 * inseam.sd_mm)
    apart = in_language(FAMILY).give_or_take.format(half=half)
    return (
        f'<p class="pf-inseam"><span>{raw(label)}</span> <strong class="pf-value">{raw(first)}'
        f"</strong> <small>{raw(second)}, {raw(apart)}</small></p>"
    )


def _drawn(fit: Fit) -> str:
    """The drawing as a picture of its own; nothing where the geometry is not known."""
    svg = bicycle_svg(fit, unit=unit(), texts=DRAWING_TEXTS[language()])
    if isinstance(svg, Refusal):
        return ""
    alt = in_language(FIT).drawing_alt.format(
        name=fit.bicycle.name,
        word=word(fit),
        inseam=length_text(fit.inseam.mean_mm),
        standover=length_text(fit.bicycle.standover_mm),
    )
    return f'<img class="pf-drawing" alt="{raw(alt)}" src="{svg_source(svg)}">'


def _small(title: str, fit: Fit, line: Lasting | None) -> str:
    facts = [room(fit)]
    if line is not None:
        facts.append(how_long(fit, line))
    if fit.bicycle.in_stock is False:
        facts.append(in_language(FIT).out_of_stock)
    return (
        f'<li><p class="pf-eyebrow">{raw(title)}</p><p><strong>{raw(fit.bicycle.name)}</strong></p>'
        f'<p>{badge_of(fit)}</p><p class="pf-quiet">{raw(" · ".join(facts))}</p></li>'
    )
