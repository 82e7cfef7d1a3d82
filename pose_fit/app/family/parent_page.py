"""The parent's page: one choice, then the answer; everything else folded below it."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.closer_look import show_closer_look
from pose_fit.app.family.next_question import NextQuestion, Weighing, next_question
from pose_fit.app.family.old_bicycle import show_old_bicycle
from pose_fit.app.family.opening import leave_tape, show_opening, take_tape, wants_tape
from pose_fit.app.family.refused_pictures import show_refused
from pose_fit.app.family.sending import is_sent, offer_sending
from pose_fit.app.family.shared_page import offer_share
from pose_fit.app.family.what_is_known import Known, advice_and_word, know, weighed
from pose_fit.app.folds import fold
from pose_fit.app.inputs.catalogue_form import ask_catalogue, catalogue_of
from pose_fit.app.inputs.child_form import (
    ask_child,
    ask_rider,
    ask_use,
    forget_child,
    policy_of,
    rider_of,
)
from pose_fit.app.inputs.clues_form import ask_trousers, forget_trousers, trousers_of
from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.inputs.one_child import ask_one_child
from pose_fit.app.inputs.photo_choice import ask_pictures, remove_all, stop_pictures, take_uploads
from pose_fit.app.inputs.reference_form import (
    forget_object,
    offer_ruler,
)
from pose_fit.app.inputs.tape_form import ask_tape, tape_of
from pose_fit.app.inputs.worn import ask_feet, ask_heels, ask_legs, ask_worn
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import Shot, shots
from pose_fit.app.shares import SharedAnswer
from pose_fit.app.style import raw
from pose_fit.app.texts.family_texts import FAMILY, FamilyTexts
from pose_fit.app.texts.form_texts import TAPE, WORN
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.texts.notice_texts import notice_text
from pose_fit.app.texts.share_texts import SHARING
from pose_fit.app.views.answer_view import show_answer, show_next_to_it, show_no_bicycle
from pose_fit.app.views.bicycles_view import show_cautions, show_table
from pose_fit.app.views.card_view import offer_card
from pose_fit.app.views.estimate_view import interval_words, show_budget, show_intervals
from pose_fit.app.views.growth_view import show_growth
from pose_fit.app.views.how_to import show_tape_drawing
from pose_fit.app.views.messages import plain, show_notes
from pose_fit.app.views.photo_view import show_pictures
from pose_fit.app.views.progress_view import Progress
from pose_fit.casebook.clue import TapeClue
from pose_fit.errors import PersonError
from pose_fit.fit.choice import Choice, choose
from pose_fit.fit.judge import Fit, judge
from pose_fit.growth.forecast import GrowthForecast
from pose_fit.growth.lasting import Lasting, forecast_of, lasting
from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.odd_one import odd_one_out
from pose_fit.measure import PhotoMeasurement
from pose_fit.notice_codes import NoticeCode
from pose_fit.refusal import Notice, Refusal, told_once
from pose_fit.report.contradiction import TAPE_DISAGREES

__all__ = ["parent_page"]

PAGE: Final = "parent"
#: Readings this unlike each other happen once in twenty with correct uncertainties.
_AGREE_P: Final = 0.05
#: Notes below the answer; all of them stand among the numbers.
_NOTES: Final = 2
#: What the question for the ruler asks as well.
_ASKED_BY_RULER: Final[frozenset[NoticeCode]] = frozenset({"size_on_trust", "print_scale_unknown"})


def parent_page() -> None:
    """The whole page."""
    bar = st.empty()
    progress = Progress(
        bar, bool(shots(PAGE)) or wants_tape(PAGE), on_stop=lambda: stop_pictures(PAGE)
    )
    take_uploads(PAGE, progress=progress)
    pictures = list(shots(PAGE).values())
    if not pictures and not wants_tape(PAGE):
        progress.clear()
        show_opening(PAGE)
        return
    found = know(PAGE, pictures, progress)
    progress.clear()
    if found.contradiction is not None:
        _show_contradiction(found.outcomes, found.contradiction)
    elif found.inseam is None:
        _show_no_answer(found)
    elif found.against:
        _show_against(found)
    else:
        _show_answer(found, found.inseam)
    st.button(in_language(FAMILY).start_again, key=f"{PAGE}.again", on_click=_start_again)


def _show_contradiction(outcomes: Sequence[Outcome], why: Refusal) -> None:
    """The pictures do not give one answer: what each says, and what to take away."""
    say = in_language(FAMILY)
    words = notice_text(why.reasons[0], language())
    show_no_bicycle(say.not_one, words)
    ask_one_child(PAGE, outcomes, why)
    _show_pictures(outcomes, "pictures")
    ask_pictures(PAGE, say.add_picture, note=say.upload_help)


def _show_no_answer(found: Known) -> None:
    """The question that stands before the answer, or the tape's form."""
    say = in_language(FAMILY)
    if found.outcomes:
        show_refused(PAGE, found.outcomes, first=True)
        with st.container(border=True, key="again_by_picture"):
            ask_pictures(PAGE, say.add_picture, note=say.upload_help)
        if not wants_tape(PAGE):
            st.button(say.tape_instead, on_click=take_tape, args=(PAGE,))
    if wants_tape(PAGE):
        with st.container(border=True, key="tape"):
            title = in_language(TAPE).title
            st.html(f"<h2>{title}</h2>" if found.outcomes else f"<h1>{title}</h1>")
            _show_tape(found.child)
    if found.outcomes:
        with fold(say.send, f"{PAGE}.send", opened=is_sent(PAGE)):
            offer_sending(found.outcomes, (), found.child, estimate=None, page=PAGE)


def _show_against(found: Known) -> None:
    """The readings are no answer yet: what to check, with everything that was entered."""
    say = in_language(FAMILY)
    codes = {one.code for one in found.against}
    words = notice_text(found.against[0], language())
    if codes & TAPE_DISAGREES:
        show_no_bicycle(say.check_title, words)
    else:
        more = say.check_entries if "inseam_implausible" in codes else say.say_age
        show_no_bicycle(say.check_title, words, f"<p>{raw(more)}</p>")
        with st.container(border=True, key="check_child"):
            ask_child(PAGE)
    if trousers_of(PAGE) is not None:
        with st.container(border=True, key="check_trousers"):
            ask_trousers(PAGE)
    if wants_tape(PAGE):
        with st.container(border=True, key="tape"):
            st.html(f"<h2>{in_language(TAPE).title}</h2>")
            _show_tape(found.child, said=found.against)
    if found.outcomes:
        _show_pictures(found.outcomes, "pictures")


def _show_answer(found: Known, inseam: Inseam) -> None:
    fits = judge(inseam, catalogue_of(PAGE), rider=rider_of(PAGE), policy=policy_of(PAGE))
    forecast, lines = _ahead(inseam, found.child, fits)
    asked = next_question(
        inseam,
        found.outcomes,
        Weighing(
            lambda outcomes: weighed(PAGE, tuple(outcomes), found.child).inseam,
            partial(advice_and_word, PAGE),
        ),
        tape_readings=sum(
            len(clue.readings_mm) for clue in found.clues if isinstance(clue, TapeClue)
        ),
    )
    with st.container(key="answer"):
        choice = choose(fits) if fits else None
        if choice is not None:
            show_answer(choice, inseam)
        _ask_next(asked, [outcome.shot for outcome in found.outcomes], inseam)
        if wants_tape(PAGE):
            # Opened until a reading is there; then the answer stands above it.
            with fold(in_language(TAPE).title, f"{PAGE}.tape", opened=tape_of(PAGE) is None):
                _show_tape(found.child)
        if choice is not None:
            show_next_to_it(choice, lines)
    if found.outcomes:
        _show_pictures(found.outcomes, asked)
    _say_agreement(found)
    show_notes(_notes(inseam, asked))
    _show_folds(found, inseam, fits, forecast, lines)
    show_cautions(choice.best if isinstance(choice, Choice) else None)


def _notes(inseam: Inseam, asked: NextQuestion) -> list[Notice]:
    """What to know of it; whether the readings agree is said above, and so is what is asked for."""
    above = {"readings_disagree", *(_ASKED_BY_RULER if asked == "ruler" else ())}
    return [notice for notice in told_once(inseam.warnings) if notice.code not in above][:_NOTES]


def _ask_next(asked: NextQuestion, pictures: Sequence[Shot], inseam: Inseam) -> None:
    """One press makes it surer."""
    say, worn = in_language(FAMILY), in_language(WORN)
    with st.container(key="surer"):
        match asked:
            case "heels":
                st.markdown(say.surer)
                ask_heels(pictures)
            case "feet":
                st.markdown(f"{say.surer} **{worn.feet}**")
                ask_feet(pictures)
            case "legs":
                st.markdown(f"{say.surer} **{worn.legs}**")
                ask_legs(pictures)
            case "ruler":
                st.markdown(say.surer)
                offer_ruler(PAGE)
            case "pictures":
                st.markdown(say.surer)
                label = say.add_pictures if len(pictures) == 1 else say.add_picture
                ask_pictures(PAGE, label, note=say.upload_help)
            case "tape" if not wants_tape(PAGE):
                st.markdown(say.surer)
                st.button(say.add_tape, on_click=take_tape, args=(PAGE,))
            case "tape_again":
                # The form is below, or one press away.
                st.markdown(f"{say.surer} **{say.tape_again}**")
            case _:
                st.markdown(say.by_stature if inseam.method == "stature" else say.nothing_more)


def _show_tape(child: Child, *, said: Sequence[Notice] = ()) -> None:
    left, right = st.columns([2, 3], gap="medium")
    with left:
        show_tape_drawing()
    with right:
        st.markdown(in_language(TAPE).how)
        ask_tape(PAGE, child, with_button=True, said=said)


def _show_pictures(outcomes: Sequence[Outcome], asked: NextQuestion) -> None:
    """The pictures with their marks; folded below them what may be put right or added."""
    say = in_language(FAMILY)
    measured = [place for place, o in enumerate(outcomes) if isinstance(o.result, PhotoMeasurement)]
    inseams = [o.result.inseam for o in outcomes if isinstance(o.result, PhotoMeasurement)]
    odd = odd_one_out(inseams)
    st.html(f"<h2>{say.pictures_title}</h2>")
    show_pictures(outcomes, odd=None if odd is None else measured[odd])
    if len(inseams) > 1:
        agree = combine_inseams(inseams).p_value >= _AGREE_P
        (st.success if agree else st.warning)(
            say.pictures_agree if agree else say.pictures_disagree
        )
    if len(measured) < len(outcomes):
        show_refused(PAGE, [o for o in outcomes if not isinstance(o.result, PhotoMeasurement)])
    with fold(say.pictures_large, f"{PAGE}.closer"):
        show_closer_look(PAGE, outcomes)
        if asked != "pictures":
            ask_pictures(PAGE, say.add_picture, note=say.upload_help)
        if asked != "tape" and not wants_tape(PAGE):
            st.button(say.add_tape, on_click=take_tape, args=(PAGE,))


def _say_agreement(found: Known) -> None:
    """Whether picture and tape agree."""
    if found.all_ways is None:
        return
    say = in_language(FAMILY)
    means_mm = [reading.mean_mm for reading in found.readings.values()]
    length = length_text(max(means_mm) - min(means_mm))
    if found.all_ways.p_value >= _AGREE_P:
        st.success(say.tape_agrees.format(length=length), icon=":material/check_circle:")
    else:
        st.warning(say.tape_differs.format(length=length), icon=":material/sync_problem:")


def _ahead(
    inseam: Inseam, child: Child, fits: Sequence[Fit]
) -> tuple[GrowthForecast | None, dict[str, Lasting]]:
    """The legs to come, and how long each bicycle lasts; empty where no table tells."""
    try:
        forecast = forecast_of(inseam, child)
    except PersonError:
        return None, {}
    return forecast, {line.name: line for line in lasting(fits, forecast)}


def _show_folds(
    found: Known,
    inseam: Inseam,
    fits: Sequence[Fit],
    forecast: GrowthForecast | None,
    lines: Mapping[str, Lasting],
) -> None:
    say, child = in_language(FAMILY), found.child
    with fold(say.others, f"{PAGE}.others"):
        show_table(fits, lines)
        ask_catalogue(PAGE)
    with fold(say.growth, f"{PAGE}.growth"):
        if fits:
            knows = child.age_y is not None and child.sex is not None
            show_growth(forecast, fits, page=PAGE, knows_child=knows)
    with fold(say.assumed, f"{PAGE}.assumed"):
        ask_child(PAGE)
        if found.outcomes:
            ask_use(PAGE)
        ask_rider(PAGE, stretch=True)
        ask_worn([outcome.shot for outcome in found.outcomes])
        ask_trousers(PAGE)
    with fold(say.numbers, f"{PAGE}.numbers"):
        _show_numbers(found, inseam, say)
    with fold(say.own_bicycle, f"{PAGE}.own"):
        show_old_bicycle(inseam, rider_of(PAGE), page=PAGE)
    with fold(say.card, f"{PAGE}.card"):
        if fits:
            offer_card(inseam, fits, page=PAGE, lines=tuple(lines.values()))
    if fits:
        with fold(in_language(SHARING).title, f"{PAGE}.share"):
            offer_share(SharedAnswer(choose(fits), inseam, lines))
    with fold(say.send, f"{PAGE}.send", opened=is_sent(PAGE)):
        offer_sending(found.outcomes, found.clues, child, estimate=inseam, page=PAGE)


def _show_numbers(found: Known, inseam: Inseam, say: FamilyTexts) -> None:
    st.markdown(plain(interval_words(inseam)))
    if found.all_ways is not None:
        show_intervals(list(found.readings.items()))
        shares = ", ".join(
            f"{name.lower()} {weight:.0%}"
            for name, weight in zip(found.readings, found.all_ways.weights, strict=True)
        )
        st.caption(say.weights.format(weights=shares))
    show_budget(inseam)


def _start_again() -> None:
    remove_all(PAGE)
    leave_tape(PAGE)
    forget_object(PAGE)
    forget_child(PAGE)
    forget_trousers(PAGE)
