"""The gift buyer's page: whatever clue there is, and the choice for the day of the present."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.case_content import estimate_of
from pose_fit.app.family.closer_look import show_closer_look
from pose_fit.app.family.gift_advice import kind_shown, show_chances, show_robust
from pose_fit.app.family.refused_pictures import show_refused
from pose_fit.app.family.sending import is_sent, offer_sending
from pose_fit.app.folds import fold
from pose_fit.app.inputs.bicycle_form import ask_own_bicycle
from pose_fit.app.inputs.catalogue_form import ask_catalogue, catalogue_of
from pose_fit.app.inputs.child_form import (
    ask_child,
    ask_rider,
    ask_use,
    child_of,
    rider_of,
    uses_child,
)
from pose_fit.app.inputs.clues_form import ask_trousers, guess_from_body, reading_of_lift
from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.inputs.one_child import ask_one_child, is_one_child
from pose_fit.app.inputs.photo_choice import ask_pictures, stop_pictures, take_uploads
from pose_fit.app.inputs.reference_form import object_of
from pose_fit.app.inputs.worn import ask_worn
from pose_fit.app.measuring import Outcome, measure_shots, together
from pose_fit.app.session import Fields, Shot, said_of, shots
from pose_fit.app.style import raw, table
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.gift_texts import GIFT, ClueKind, GiftTexts
from pose_fit.app.texts.language import date_format, in_language, language
from pose_fit.app.texts.notice_texts import notice_text
from pose_fit.app.views.answer_view import show_no_bicycle
from pose_fit.app.views.bicycles_view import show_cautions, show_table
from pose_fit.app.views.card_view import offer_card
from pose_fit.app.views.estimate_view import (
    half_width_text,
    show_budget,
    show_intervals,
    show_value,
)
from pose_fit.app.views.messages import fault_text, show_refusal
from pose_fit.app.views.photo_view import show_pictures
from pose_fit.app.views.progress_view import Progress
from pose_fit.casebook.clue import Clue
from pose_fit.errors import PersonError
from pose_fit.fit.judge import judge
from pose_fit.fit.robust import Robust, rank_presents
from pose_fit.growth.age import age_range, shifted_age
from pose_fit.growth.inseam_on_day import inseam_on
from pose_fit.growth.lasting import forecast_of, lasting
from pose_fit.inseam.against_child import against_child
from pose_fit.inseam.combine import Combination, combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.refusal import Refusal

__all__ = ["gift_page"]

PAGE: Final = "gift"


@dataclass(slots=True)
class _Found:
    """The clues as they are given: for the shop, and each inseam with the day it is from."""

    outcomes: tuple[Outcome, ...]
    clues: list[Clue]
    dated: dict[str, tuple[Inseam, dt.date]]


def gift_page() -> None:
    """The whole page."""
    say = in_language(GIFT)
    progress = Progress(st.empty(), bool(shots(PAGE)), on_stop=lambda: stop_pictures(PAGE))
    take_uploads(PAGE, progress=progress)
    fields = Fields(f"{PAGE}.clues")
    answer = st.container(key="gift_answer")
    if not fields.value("guardian", False):
        _ask_guardian(say, fields)
        show_cautions()
        return
    today = dt.date.today()
    child = child_of(PAGE)
    st.session_state.setdefault(fields.key("gift_on"), today)
    gift_on: dt.date = st.date_input(
        say.gift_day,
        min_value=today,
        key=fields.key("gift_on"),
        format=date_format(),
        help=say.gift_day_help,
    )
    kinds = st.pills(
        say.clues,
        tuple(say.clue_kinds),
        format_func=say.clue_kinds.__getitem__,
        selection_mode="multi",
        key=fields.key("kinds"),
    )
    found = _ask_clues(kinds, child, today, progress)
    progress.clear()
    on_day = _moved(found.dated, max(gift_on, today), child, say)
    of_today = list(_moved(found.dated, today, child, say).values())
    now = estimate_of(of_today)
    against = [notice for inseam in of_today for notice in against_child(inseam, child)]
    named: Robust | None = None
    with answer:
        if against:
            words = notice_text(against[0], language())
            title = in_language(FAMILY).check_title
            show_no_bicycle(title, words, f"<p>{raw(say.check_entries)}</p>")
        elif on_day:
            named = _show_answer(found, on_day, child, say, today=today, on=gift_on, now=now)
        else:
            st.html(f"<h1>{raw(say.title)}</h1><p>{raw(say.first_clue)}</p>")
    if not on_day and found.outcomes:
        with fold(in_language(FAMILY).send, f"{PAGE}.send", opened=is_sent(PAGE)):
            offer_sending(
                found.outcomes, found.clues, child, estimate=None, page=PAGE, needed_on=gift_on
            )
    show_cautions(None if named is None else named.fit)


def _ask_guardian(say: GiftTexts, fields: Fields) -> None:
    st.html(f"<h1>{raw(say.title)}</h1><p>{raw(say.sentence)}</p>")
    with st.container(border=True):
        st.markdown(f"**{say.only_guardian}**")
        st.checkbox(say.guardian, key=fields.key("guardian"))


def _ask_clues(
    kinds: Sequence[ClueKind], child: Child, today: dt.date, progress: Progress
) -> _Found:
    say = in_language(GIFT)
    found = _Found((), [], {})
    if "picture" in kinds:
        with st.container(border=True):
            _ask_picture(found, child, today, progress)
    if "trousers" in kinds:
        with st.container(border=True):
            by_trousers = ask_trousers(PAGE)
            if by_trousers is not None:
                show_value(by_trousers.inseam)
                found.clues.append(by_trousers)
                found.dated[say.clue_kinds["trousers"]] = by_trousers.inseam, today
    if "bicycle" in kinds:
        with st.container(border=True):
            by_lift = reading_of_lift(ask_own_bicycle(PAGE), rider_of(PAGE))
            if by_lift is not None:
                show_value(by_lift.inseam)
                found.clues.append(by_lift)
                found.dated[say.lift] = by_lift.inseam, today
            else:
                st.caption(say.lift_needs)
    if kinds:
        with (
            st.container(border=True)
            if "size" in kinds
            else fold(in_language(FAMILY).assumed, f"{PAGE}.child")
        ):
            ask_child(PAGE)
            if found.outcomes:
                ask_use(PAGE)
            ask_rider(PAGE)
    guess = guess_from_body(child) if "size" in kinds else None
    if guess is not None:
        name = say.height if child.stature_mm is not None else say.age
        found.dated[name] = guess[1], today
    return found


def _ask_picture(found: _Found, child: Child, today: dt.date, progress: Progress) -> None:
    say = in_language(GIFT)
    pictures = list(shots(PAGE).values())
    ask_pictures(PAGE, say.picture, note=say.picture_note)
    if not pictures:
        return
    _ask_taken_on(pictures, today)
    found.outcomes = measure_shots(
        pictures,
        object_of(PAGE),
        child,
        progress=progress,
        use_child=uses_child(PAGE),
    )
    refused = [o for o in found.outcomes if not isinstance(o.result, PhotoMeasurement)]
    if len(refused) < len(found.outcomes):
        show_pictures(found.outcomes, odd=None)
    if refused:
        show_refused(PAGE, refused)
    ask_worn(pictures)
    with fold(in_language(FAMILY).pictures_large, f"{PAGE}.closer"):
        show_closer_look(PAGE, found.outcomes)
    by_photo = together(found.outcomes, is_one_child=is_one_child(PAGE, found.outcomes))
    if isinstance(by_photo, Refusal):
        show_refusal(by_photo)
        ask_one_child(PAGE, found.outcomes, by_photo)
    elif by_photo is not None:
        found.dated[say.clue_kinds["picture"]] = by_photo.inseam, by_photo.on


def _ask_taken_on(pictures: Sequence[Shot], today: dt.date) -> None:
    """Day of the pictures; filled in from the first one's file where that knows."""
    shot = pictures[0]
    key = Fields(f"shot.{shot.key}").key("taken_on")
    st.session_state.setdefault(key, min(shot.photo.taken_on or today, today))
    day: dt.date = st.date_input(
        in_language(GIFT).picture_day,
        max_value=today,
        min_value=dt.date(today.year - 16, 1, 1),
        key=key,
        format=date_format(),
    )
    for each in pictures:
        said_of(each).stated = replace(said_of(each).stated, taken_on=day)


def _moved(
    dated: Mapping[str, tuple[Inseam, dt.date]], on: dt.date, child: Child, say: GiftTexts
) -> dict[str, Inseam]:
    """Each clue moved to another day; one that cannot be is said and left out."""
    today = dt.date.today()
    moved: dict[str, Inseam] = {}
    for name, (inseam, measured_on) in dated.items():
        try:
            ages = None
            if child.age_y is not None:
                ages = shifted_age(age_range(child.age_y), stated_on=today, on=measured_on)
            moved[name] = inseam_on(
                inseam, measured_on=measured_on, on=on, age_range_y=ages, sex=child.sex
            )
        except PersonError as error:
            told = say.clue_out.format(name=name, fault=fault_text(error))
            st.error(told, icon=":material/event_busy:")
    return moved


def _show_answer(
    found: _Found,
    on_day: Mapping[str, Inseam],
    child: Child,
    say: GiftTexts,
    *,
    today: dt.date,
    on: dt.date,
    now: Inseam | None,
) -> Robust | None:
    """Everything about the day of the present; the bicycle that is named comes back."""
    family = in_language(FAMILY)
    together = combine_inseams(list(on_day.values())) if len(on_day) > 1 else None
    inseam = together.inseam if together is not None else next(iter(on_day.values()))
    fits = judge(inseam, catalogue_of(PAGE), rider=rider_of(PAGE))
    try:
        lines = {line.name: line for line in lasting(fits, forecast_of(inseam, child))}
    except PersonError:
        lines = {}
    grown_mm = None if now is None or on <= today else inseam.mean_mm - now.mean_mm
    robust: Robust | None = None
    kind = kind_shown(fits, page=PAGE, age_y=child.age_y, today=today, on=on)
    # One order for the answer, the table and the card.
    order = partial(rank_presents, kind=kind)
    if fits:
        robust = show_robust(
            inseam,
            fits,
            lines,
            page=PAGE,
            kind=kind,
            today=today,
            on=on,
            grown_mm=grown_mm,
        )
    with fold(say.all_bicycles, f"{PAGE}.bicycles"):
        show_table(fits, lines, order=order)
        ask_catalogue(PAGE)
    with fold(family.numbers, f"{PAGE}.numbers"):
        if robust is not None:
            show_chances(robust)
        _show_numbers(on_day, together, inseam, say)
    with fold(family.card, f"{PAGE}.card"):
        if fits:
            offer_card(
                inseam,
                fits,
                page=PAGE,
                lines=tuple(lines.values()),
                order=order,
                inseam_on=on if on > today else None,
            )
    with fold(family.send, f"{PAGE}.send", opened=is_sent(PAGE)):
        offer_sending(found.outcomes, found.clues, child, estimate=now, page=PAGE, needed_on=on)
    return robust


def _show_numbers(
    on_day: Mapping[str, Inseam], together: Combination | None, inseam: Inseam, say: GiftTexts
) -> None:
    show_value(inseam)
    if together is None:
        st.caption(say.by_one_clue.format(name=next(iter(on_day)).lower()))
    else:
        show_intervals(list(on_day.items()))
        table(
            say.clue_table,
            (
                (name, length_text(clue.mean_mm), half_width_text(clue), f"{weight:.0%}")
                for (name, clue), weight in zip(on_day.items(), together.weights, strict=True)
            ),
        )
    show_budget(inseam)
