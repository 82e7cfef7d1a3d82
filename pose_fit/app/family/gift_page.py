"""The gift buyer's page: from whatever is known today to a choice for the day of the present."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.case_content import estimate_of
from pose_fit.app.family.gift_advice import show_robust
from pose_fit.app.family.sending import offer_sending
from pose_fit.app.folds import fold
from pose_fit.app.inputs.bicycle_form import ask_own_bicycle
from pose_fit.app.inputs.catalogue_form import ask_catalogue
from pose_fit.app.inputs.child_form import ask_child, ask_rider
from pose_fit.app.inputs.clues_form import ask_trousers, guess_from_body, reading_of_lift
from pose_fit.app.inputs.lengths import unit_choice
from pose_fit.app.inputs.photo_choice import choose_shots
from pose_fit.app.inputs.reference_form import ObjectOfKnownSize, ask_all_points, ask_object
from pose_fit.app.inputs.worn import ask_worn
from pose_fit.app.measuring import Outcome, measure_marked
from pose_fit.app.session import FIELD, Shot
from pose_fit.app.style import card_title, step, table
from pose_fit.app.views.bicycles_view import show_bicycles, show_cautions
from pose_fit.app.views.card_view import offer_card
from pose_fit.app.views.estimate_view import (
    half_width_text,
    show_budget,
    show_intervals,
    show_value,
)
from pose_fit.app.views.messages import plain, show_notices
from pose_fit.app.views.photo_view import show_marks, show_photo_estimate
from pose_fit.casebook.clue import Clue
from pose_fit.errors import PersonError
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Rider
from pose_fit.growth.age import age_range, shifted_age
from pose_fit.growth.season import inseam_on
from pose_fit.inseam.combine import Combination, combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import both_units

__all__ = ["gift_page"]

PAGE: Final = "gift"


def gift_page() -> None:
    """The whole page."""
    st.title("A bicycle as a present")
    st.markdown(
        "The child is not to know. Give whatever there is: a picture from the last holiday,"
        " trousers that fit, the bicycle it rides now. Every clue counts by how sure it is."
    )
    with st.container(border=True):
        st.markdown(
            "**Only for the child’s parent or guardian.** A picture of somebody else’s child may"
            " be measured only with the agreement of its parent or guardian."
        )
        if not st.checkbox(
            "I am the child’s parent or guardian, or have their agreement",
            key=f"{FIELD}{PAGE}.guardian",
        ):
            st.caption("Tick this to go on.")
            show_cautions()
            return
    step(1, "The child and the day")
    with st.container(border=True):
        unit_choice()
        child = ask_child(PAGE)
        gift_on = st.date_input(
            "Day of the present",
            value=dt.date.today(),
            min_value=dt.date.today(),
            key=f"{FIELD}{PAGE}.gift_on",
            help="The legs grow until then.",
        )
        rider = ask_rider(PAGE)
    step(2, "Clues")
    found = _ask_clues(child, rider)
    step(3, "How long the legs will be on the day")
    inseam = _combined(_moved(found.dated, gift_on, child))
    step(4, "The most robust choice")
    bicycles = ask_catalogue(PAGE)
    if inseam is None:
        st.info("The bicycles are judged as soon as there is one clue.", icon=":material/redeem:")
    elif bicycles:
        fits = judge(inseam, bicycles, rider=rider)
        show_robust(fits, page=PAGE)
        with fold("All bicycles on the day of the present", f"{PAGE}.bicycles"):
            show_bicycles(fits, page=PAGE)
        with fold("Fit card to keep or send", f"{PAGE}.card"):
            offer_card(inseam, fits, page=PAGE)
    with fold("Let the shop check it", f"{PAGE}.send"):
        today = _moved(found.dated, dt.date.today(), child)
        offer_sending(
            found.outcomes,
            found.asked,
            found.clues,
            child,
            estimate=estimate_of(list(today.values())),
            page=PAGE,
            needed_on=gift_on,
        )
    show_cautions()


@dataclass(frozen=True, slots=True)
class _Found:
    """The clues: as sent to the shop, and each inseam by name with the day it is from."""

    outcomes: tuple[Outcome, ...]
    asked: ObjectOfKnownSize | None
    clues: tuple[Clue, ...]
    dated: dict[str, tuple[Inseam, dt.date]]


def _ask_clues(child: Child, rider: Rider) -> _Found:
    today = dt.date.today()
    clues: list[Clue] = []
    dated: dict[str, tuple[Inseam, dt.date]] = {}
    with st.container(border=True):
        card_title("A picture, not posed")
        st.caption(
            "Any picture that shows the child standing, head to feet, with something whose length"
            " you know: a door, a bicycle wheel, a rod. The interval is wide where it is not posed."
        )
        left, right = st.columns(2, gap="medium")
        with left:
            shots = choose_shots(PAGE)
            worn = ask_worn(PAGE)
        with right:
            asked = ask_object(PAGE, usual="door")
            taken_on = _ask_taken_on(shots, today)
        ask_all_points(shots, asked)
        outcomes = measure_marked(shots, asked, _child_on(child, taken_on, today), worn=worn)
        by_photo = show_photo_estimate(PAGE, outcomes)
        show_marks(outcomes)
        if by_photo is not None:
            dated["Picture"] = by_photo, taken_on
    with st.container(border=True):
        card_title("Trousers")
        by_trousers = ask_trousers(PAGE)
        if by_trousers is not None:
            show_value(by_trousers.inseam)
            show_notices(by_trousers.inseam.warnings)
            clues.append(by_trousers)
            dated["Trousers"] = by_trousers.inseam, today
    with st.container(border=True):
        card_title("The bicycle it rides now")
        by_lift = reading_of_lift(ask_own_bicycle(PAGE), rider)
        if by_lift is not None:
            show_value(by_lift.inseam)
            clues.append(by_lift)
            dated["Bicycle"] = by_lift.inseam, today
        else:
            st.caption("With marking, standover and lift it gives the length of the legs.")
    guess = guess_from_body(child)
    if guess is not None:
        name, inseam = guess
        dated[name] = inseam, today
    return _Found(outcomes, asked, tuple(clues), dated)


def _ask_taken_on(shots: list[Shot], today: dt.date) -> dt.date:
    """Day of the picture; filled in from the picture itself where it knows."""
    key = f"{FIELD}{PAGE}.taken_on"
    known = next((shot for shot in shots if shot.photo.taken_on is not None), None)
    filled = f"sample.{PAGE}.taken_on_from"
    if known is not None and st.session_state.get(filled) != known.key:
        st.session_state[filled] = known.key
        assert known.photo.taken_on is not None
        st.session_state[key] = min(known.photo.taken_on, today)
    st.session_state.setdefault(key, today)
    day: dt.date = st.date_input(
        "Day of the picture",
        max_value=today,
        min_value=dt.date(today.year - 16, 1, 1),
        key=key,
        help="Filled in from the picture where its file says it.",
    )
    return day


def _child_on(child: Child, day: dt.date, today: dt.date) -> Child:
    """The child as it was on the day of the picture; its height of today says nothing of then."""
    if child.age_y is None:
        return Child(sex=child.sex)
    try:
        youngest, oldest = shifted_age(age_range(child.age_y), stated_on=today, on=day)
    except PersonError:
        return Child(sex=child.sex)
    return Child(age_y=(youngest + oldest) / 2, sex=child.sex)


def _moved(
    dated: Mapping[str, tuple[Inseam, dt.date]], on: dt.date, child: Child
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
            st.error(plain(f"{name}: {error}"), icon=":material/event_busy:")
    return moved


def _combined(clues: Mapping[str, Inseam]) -> Inseam | None:
    if not clues:
        st.caption("No clue yet.")
        return None
    if len(clues) == 1:
        ((name, only),) = clues.items()
        with st.container(border=True):
            card_title(f"From one clue: {name.lower()}")
            show_value(only)
            _more(only)
        return only
    combination = combine_inseams(list(clues.values()))
    with st.container(border=True):
        card_title("All clues together")
        show_value(combination.inseam)
        show_intervals([*clues.items(), ("Together", combination.inseam)])
        _show_weights(clues, combination)
        _more(combination.inseam)
    return combination.inseam


def _show_weights(clues: Mapping[str, Inseam], combination: Combination) -> None:
    table(
        ("Clue", "On the day", "19 in 20: ±", "Weight"),
        (
            (name, both_units(clue.mean_mm), half_width_text(clue), f"{weight:.0%}")
            for (name, clue), weight in zip(clues.items(), combination.weights, strict=True)
        ),
    )
    disagree = [n for n in combination.inseam.warnings if n.code == "readings_disagree"]
    show_notices(disagree)


def _more(inseam: Inseam) -> None:
    with fold("What leaves it unsure", f"{PAGE}.budget"):
        show_budget(inseam)
