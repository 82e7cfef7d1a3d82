"""A judged bicycle and the choice in plain words, for a parent and for staff, from the same facts."""

import math
from typing import Final, Literal

from pose_fit.bicycle.standards import TOE_CLEARANCE_RULE, standards
from pose_fit.fit.cautions import GENERAL_CAUTIONS, cautions, seat_of
from pose_fit.fit.clearance import MIN_CLEARANCE_MM
from pose_fit.fit.cockpit import RECOMMENDED_FLEXION_RAD, Cockpit
from pose_fit.fit.feet import Feet
from pose_fit.fit.judge import Fit
from pose_fit.fit.judged import CrampedBy
from pose_fit.fit.lift import expected_lift
from pose_fit.fit.settle import Action, settle_by
from pose_fit.fit.shown import Shown
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95, UncertainLength
from pose_fit.metrology.units import Unit, both_units, length_text, small_text
from pose_fit.notice_codes import NoticeCode
from pose_fit.refusal import Notice, Refusal

__all__ = [
    "GENERAL_CAUTIONS",
    "HEADLINES",
    "Audience",
    "cautions",
    "feet_text",
    "headline",
    "reasons",
    "settle_text",
]

Audience = Literal["parent", "staff"]

#: What stands on a bicycle, with a few words more.
HEADLINES: Final[dict[Shown, str]] = {
    "touching": "Touching: not to be ridden",
    "too big": "Too big for now",
    "tight": "Tight: to grow into",
    "good": "Good: fits now",
    "roomy": "Roomy: fits, with room to spare",
    "outgrown": "Outgrown: too small",
    "measure this bicycle": "Measure this bicycle first",
    "measure the child again": "Measure the child again first",
    "try with an adult holding it": "Try with an adult holding it",
}
_CRAMPED_CODES: Final[dict[CrampedBy, NoticeCode]] = {
    "nothing": "cramped_nothing",
    "saddle": "cramped_saddle",
    "knees": "cramped_knees",
    "lift": "cramped_lift",
}
_FEET: Final[dict[Feet, str]] = {
    "both feet flat": "Both feet reach the ground flat from the lowest saddle.",
    "tiptoes": "Seated on the lowest saddle, the toes reach the ground.",
    "perhaps tiptoes": "Check that the toes reach the ground from the lowest saddle.",
    "not at the lowest saddle": "The child does not reach the ground from the lowest saddle.",
}
_SETTLING: Final[dict[Action, str]] = {
    "measure_bicycle": "measure this bicycle in the shop with a tape",
    "second_photo": "take a second photo",
    "tape": "measure the inseam with a tape against a wall, twice",
    "repeat_tape": "measure the inseam with the tape two more times",
    "try_in_person": "let the child try this bicycle with an adult holding it",
}


def headline(fit: Fit) -> str:
    """The word or phrase that stands on the bicycle, with a few words more."""
    return HEADLINES[fit.shown]


def feet_text(fit: Fit) -> str:
    """Whether the child reaches the ground, one sentence."""
    if fit.feet is None:
        return "Whether the child reaches the ground is not known: its lowest saddle is not given."
    return _FEET[fit.feet]


def reasons(fit: Fit, *, audience: Audience = "parent", unit: Unit = "in") -> tuple[Notice, ...]:
    """Why it is judged so, most important first; lengths in ``unit`` first."""
    seat = seat_of(fit)
    notices = [_clearance(fit, audience, unit)]
    if not fit.bicycle.has_top_tube:
        notices = [_without_top_tube(fit, audience, unit)]
    elif fit.changes.good_from_mm > _clear_from_mm(fit) + 1:
        notices.append(_low_saddle(fit, audience, unit))
    if fit.verdict == "cramped" or fit.probabilities["cramped"] > fit.policy.max_outgrown_risk:
        notices.append(_outgrown(fit, seat, audience, unit))
    elif fit.recommended and fit.changes.cramped_by != "lift":
        notices.append(_room(fit, audience, unit))
    if not fit.changes.judged:
        notices.append(_not_judged(fit))
    elif not fit.recommended and fit.probabilities["contact"] < 0.5 and fit.fitting >= 0.2:
        notices.append(_doubt(fit, audience))
    if fit.recommended and fit.bicycle.has_top_tube:
        notices.append(_lift_check(fit, audience, unit))
    if audience == "staff":
        if isinstance(seat, Cockpit):
            notices.append(_seat(seat, unit))
        notices += _rules(fit)
    return tuple(notices)


def _clear_from_mm(fit: Fit) -> float:
    """Inseam that leaves the wanted clearance over the top tube, whatever the saddle."""
    return fit.bicycle.standover_mm - fit.rider.soles_mm + MIN_CLEARANCE_MM[fit.rider.skill]


def _clearance(fit: Fit, audience: Audience, unit: Unit) -> Notice:
    spare_mm = fit.clearance_mm
    if audience == "staff":
        text = (
            f"Clearance {both_units(spare_mm, unit)}, standard uncertainty"
            f" {small_text(fit.clearance_sd_mm, unit)}: inseam {length_text(fit.inseam.mean_mm, unit)}"
            f" + sole {length_text(fit.rider.soles_mm, unit)} - standover"
            f" {length_text(fit.bicycle.standover_mm, unit)} ({fit.bicycle.standover_source})."
        )
    elif spare_mm <= 0:
        text = (
            f"The top tube is {both_units(-spare_mm, unit)} higher than the child's legs in shoes."
        )
    else:
        text = f"In shoes, the child has {both_units(spare_mm, unit)} above the top tube."
    return Notice("clearance", text)


def _without_top_tube(fit: Fit, audience: Audience, unit: Unit) -> Notice:
    lowest_mm, feet = fit.bicycle.saddle_min_mm, fit.feet
    what = "It has no top tube to clear" if fit.bicycle.pedals else "It has no pedals"
    if lowest_mm is None or feet is None:
        return Notice("no_top_tube", f"{what}. Its saddle decides.")
    if audience == "staff":
        how = "toes reach" if fit.bicycle.pedals else "both feet are flat on"
        return Notice(
            "lowest_saddle",
            f"{what}. Lowest saddle {both_units(lowest_mm, unit)}: {how} the ground from an inseam"
            f" of {both_units(fit.changes.contact_below_mm, unit)}, standard uncertainty"
            f" {small_text(fit.changes.contact_sd_mm, unit)}.",
        )
    return Notice("lowest_saddle", f"{what}. {_FEET[feet]}")


def _low_saddle(fit: Fit, audience: Audience, unit: Unit) -> Notice:
    how = "with both feet flat" if fit.rider.skill == "first_pedals" else "on tiptoe"
    if audience == "staff":
        wanted = both_units(fit.changes.good_from_mm, unit)
        text = f"Lowest saddle asks for an inseam of {wanted} {how}."
    else:
        text = feet_text(fit)
    return Notice("lowest_saddle", text)


def _outgrown(fit: Fit, seat: Cockpit | Refusal, audience: Audience, unit: Unit) -> Notice:
    if fit.probabilities["cramped"] >= fit.policy.sure_from:
        certain = ""
    else:
        certain = "probably " if fit.verdict == "cramped" else "perhaps "
    match fit.changes.cramped_by:
        case "saddle":
            text = f"The saddle at its highest is {certain}too low for these legs"
            if isinstance(seat, Cockpit):
                gap = both_units(max(seat.knee_gap_mm, 0.0), unit)
                text += f", and the knees come within {gap} of the grips"
            text += "."
        case "knees":
            text = f"The knees are {certain}too near the handlebar at the top of each turn."
        case _:
            text = (
                f"So much clearance means that the bicycle is {certain}too small. Measure its saddle"
                " heights to be sure."
            )
    if audience == "staff":
        text += f" {_outgrown_from(fit, unit)}."
    return Notice(_CRAMPED_CODES[fit.changes.cramped_by], text)


def _room(fit: Fit, audience: Audience, unit: Unit) -> Notice:
    text = f"It lasts until the legs are about {both_units(fit.room_to_grow_mm, unit)} longer."
    if audience == "staff":
        text += f" {_outgrown_from(fit, unit)} ({fit.changes.cramped_by})."
    return Notice("room_to_grow", text)


def _outgrown_from(fit: Fit, unit: Unit) -> str:
    changes = fit.changes
    return (
        f"Outgrown from an inseam of {both_units(changes.cramped_from_mm, unit)}, standard"
        f" uncertainty {small_text(changes.cramped_sd_mm, unit)}"
    )


def _lift_check(fit: Fit, audience: Audience, unit: Unit) -> Notice:
    """What lifting the bicycle should show, so that the advice can be checked on the spot."""
    text = (
        "To check, let the child stand over it with both feet flat, and lift it until the top tube"
        f" touches: both tyres come up by about {both_units(fit.clearance_mm, unit)}."
    )
    front = expected_lift(fit.inseam, fit.bicycle, lifted="front_wheel", rider=fit.rider)
    if audience == "staff" and isinstance(front, UncertainLength):
        text += f" The front wheel alone comes up by {both_units(front.mean_mm, unit)}."
    return Notice("lift_check", text)


def _not_judged(fit: Fit) -> Notice:
    return Notice("not_judged", f"{fit.advice.why} Until then it cannot be recommended.")


def _doubt(fit: Fit, audience: Audience) -> Notice:
    """Why a bicycle that may fit is not recommended."""
    risk = fit.probabilities["contact"]
    if risk <= fit.policy.max_contact_risk:
        return Notice("not_likely_enough", fit.advice.why)
    if audience == "staff":
        limit = f"{fit.policy.max_contact_risk:.1%}"
        return Notice("contact_risk", f"P(contact) {risk:.1%}, guard band {limit}.")
    return Notice("contact_risk", fit.advice.why)


def _seat(seat: Cockpit, unit: Unit) -> Notice:
    low_deg, high_deg = (math.degrees(angle) for angle in RECOMMENDED_FLEXION_RAD)
    at, wanted, lowest, highest, to_pedal, to_bracket, gap = (
        length_text(length_mm, unit)
        for length_mm in (
            seat.saddle_mm,
            seat.saddle_wanted_mm,
            *seat.saddle_range_mm,
            seat.saddle_to_pedal_rule_mm,
            seat.saddle_to_bottom_bracket_rule_mm,
            seat.knee_gap_mm,
        )
    )
    return Notice(
        "seat",
        f"Saddle {at}, wanted {wanted}, of {lowest} to {highest}. For the full stretch of the leg"
        f" {to_pedal} (1.09 to the pedal) or {to_bracket} (0.883 to the bottom bracket). Knee bent"
        f" {math.degrees(seat.knee_flexion_bottom_rad):.0f}° at the bottom (the rules aim at"
        f" {low_deg:.0f}-{high_deg:.0f}°), {math.degrees(seat.knee_flexion_top_rad):.0f}° at the"
        f" top. Knee to grips {gap}. Trunk to thigh"
        f" {math.degrees(seat.hip_angle_rad):.0f}°, trunk over the ground"
        f" {math.degrees(seat.trunk_lean_rad):.0f}°.",
    )


def _rules(fit: Fit) -> list[Notice]:
    """Kinds of bicycle by the rules it meets, and a toe clearance that is too small; or nothing."""
    found = standards(fit.bicycle)
    texts = [rule.rule for rule in found if rule.met and rule.rule != TOE_CLEARANCE_RULE]
    texts += [
        f"{rule.rule} not met: {rule.text}"
        for rule in found
        if not rule.met and rule.rule == TOE_CLEARANCE_RULE
    ]
    return [Notice("rules", f"By its geometry: {'; '.join(texts)}.")] if texts else []


def settle_text(fit: Fit, *, audience: Audience = "parent", unit: Unit = "in") -> str:
    """What would settle this bicycle if it is unsure, one short sentence; staff read why."""
    settle = settle_by(fit)
    text = f"To be sure, {_SETTLING[settle.action]}."
    if audience == "staff":
        half_mm = COVERAGE_FACTOR_95 * settle.sd_mm
        text += f" What matters most is the {settle.source} (± {small_text(half_mm, unit)})."
    return text
