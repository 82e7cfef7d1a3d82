"""Reasons and cautions in plain words, for a parent and for staff, from the same facts."""

import math
from typing import Final, Literal

from pose_fit.bicycle.tyre import AmbiguousMarking
from pose_fit.fit.chance import chance_text
from pose_fit.fit.choice import Choice, NextSize, NoneFits
from pose_fit.fit.cockpit import CROWDED_HIP_RAD, RECOMMENDED_FLEXION_RAD, Cockpit, cockpit
from pose_fit.fit.judge import Fit
from pose_fit.fit.policy import MIN_CLEARANCE_MM
from pose_fit.fit.settle import Settle, settle_by
from pose_fit.fit.verdicts import Verdict
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice, Refusal

__all__ = [
    "GENERAL_CAUTIONS",
    "Audience",
    "cautions",
    "choice_text",
    "headline",
    "reasons",
    "settle_text",
]

Audience = Literal["parent", "staff"]

#: What every advice carries, however sure it is.
GENERAL_CAUTIONS: Final = (
    "This helps to choose which bicycles to try. It does not replace standing over the bicycle:"
    " have the child straddle it, in riding shoes, with an adult holding it.",
    "A qualified fitter decides; brakes, steering and bolts are checked before the first ride.",
    "A helmet that fits, on every ride; ask what else the law asks where you live.",
)

_HEADLINES: Final[dict[Verdict, str]] = {
    "contact": "Too big: not to be ridden",
    "tight": "Tight: a little too big",
    "good": "Fits",
    "roomy": "Fits, with room to spare",
    "cramped": "Too small: outgrown",
}


#: Probability of contact or of being outgrown beyond which nobody asks how the child would sit.
_HOPELESS: Final = 0.999


def headline(fit: Fit) -> str:
    """Verdict and how sure it is, in a few words."""
    text = _HEADLINES[fit.verdict]
    if fit.verdict in ("good", "roomy") and not fit.recommended:
        if not fit.changes.judged:
            return "Cannot be judged without more measurements"
        return "May fit: not sure enough to recommend"
    if fit.verdict == "tight" and fit.recommended:
        return "Tight: to grow into"
    return f"{text} (not certain)" if fit.unsure else text


def reasons(fit: Fit, *, audience: Audience = "parent") -> tuple[Notice, ...]:
    """Why the verdict is what it is, most important first."""
    seat = _seat_of(fit)
    notices = [_clearance(fit, audience)]
    if fit.bicycle.has_top_tube and fit.changes.good_from_mm > _bar_good_from_mm(fit) + 1:
        notices.append(_low_saddle(fit, audience))
    if fit.verdict == "cramped" or fit.probabilities["cramped"] > 0.2:
        notices.append(_cramped(fit, seat, audience))
    elif fit.recommended and fit.changes.cramped_by != "lift":
        notices.append(_room(fit, audience))
    if not fit.changes.judged:
        notices.append(_not_judged(fit))
    elif not fit.recommended and fit.probabilities["contact"] < 0.5 and fit.fitting >= 0.2:
        notices.append(_risk(fit, audience))
    if audience == "staff" and isinstance(seat, Cockpit):
        notices.append(_seat(seat))
    return tuple(notices)


def _seat_of(fit: Fit) -> Cockpit | Refusal:
    """How the child sits on it, where that is worth telling: not on a hopeless bicycle."""
    if max(fit.probabilities["contact"], fit.probabilities["cramped"]) > _HOPELESS:
        return Refusal((Notice("hopeless", "Far too big or too small to sit on."),))
    return cockpit(fit.inseam.mean_mm, fit.bicycle, rider=fit.rider)


def _not_judged(fit: Fit) -> Notice:
    low, high = fit.bicycle.saddle_min_mm is None, fit.bicycle.saddle_max_mm is None
    wanted = (
        "lowest and highest saddle" if low and high else f"{'lowest' if low else 'highest'} saddle"
    )
    if fit.bicycle.has_top_tube:
        why = "Whether a beginner's feet are flat on the ground from this saddle is not known"
    else:
        why = "Without a bar there is only the saddle to judge this bicycle by"
    return Notice("not_judged", f"{why}: measure its {wanted}.")


def _seat(seat: Cockpit) -> Notice:
    low_deg, high_deg = (math.degrees(angle) for angle in RECOMMENDED_FLEXION_RAD)
    return Notice(
        "seat",
        f"Saddle {seat.saddle_mm:.0f} mm, wanted {seat.saddle_wanted_mm:.0f}, of"
        f" {seat.saddle_range_mm[0]:.0f} to {seat.saddle_range_mm[1]:.0f}; for the leg's full"
        f" stretch {seat.saddle_to_pedal_rule_mm:.0f} (1.09 to the pedal) or"
        f" {seat.saddle_to_bottom_bracket_rule_mm:.0f} (0.883 to the axle). Knee bent"
        f" {math.degrees(seat.knee_flexion_bottom_rad):.0f}° at the bottom (the rules aim at"
        f" {low_deg:.0f}-{high_deg:.0f}°), {math.degrees(seat.knee_flexion_top_rad):.0f}° at the"
        f" top; knee to grips {seat.knee_gap_mm:.0f} mm; trunk to thigh"
        f" {math.degrees(seat.hip_angle_rad):.0f}°, trunk over the ground"
        f" {math.degrees(seat.trunk_lean_rad):.0f}°.",
    )


def _bar_good_from_mm(fit: Fit) -> float:
    return fit.bicycle.standover_mm - fit.rider.soles_mm + MIN_CLEARANCE_MM[fit.rider.skill]


def _clearance(fit: Fit, audience: Audience) -> Notice:
    if not fit.bicycle.has_top_tube:
        return _step_through(fit, audience)
    spare_mm = fit.clearance_mm
    if audience == "staff":
        return Notice(
            "clearance",
            f"Clearance {both_units(spare_mm)}, sd {fit.clearance_sd_mm:.0f} mm: inseam"
            f" {fit.inseam.mean_mm:.0f} + sole {fit.rider.soles_mm:.0f} - standover"
            f" {fit.bicycle.standover_mm:.0f} mm ({fit.bicycle.standover_source}).",
        )
    if spare_mm <= 0:
        text = f"The top bar is {both_units(-spare_mm)} higher than the child's crotch in shoes."
    else:
        text = f"Standing over it in shoes, the child has {both_units(spare_mm)} above the top bar."
    return Notice("clearance", text)


def _step_through(fit: Fit, audience: Audience) -> Notice:
    lowest_mm = fit.bicycle.saddle_min_mm
    if lowest_mm is None:
        return Notice("no_bar", "A step-through frame has no bar to clear.")
    if audience == "staff":
        return Notice(
            "lowest_saddle",
            f"No bar. Lowest saddle {both_units(lowest_mm)}: toes reach the ground from an inseam"
            f" of {fit.changes.contact_below_mm:.0f} mm, sd {fit.changes.contact_sd_mm:.0f} mm.",
        )
    if fit.inseam.mean_mm <= fit.changes.contact_below_mm:
        text = "There is no bar, but from the lowest saddle the child cannot reach the ground."
    elif fit.inseam.mean_mm <= fit.changes.good_from_mm:
        text = "There is no bar; from the lowest saddle the child only just reaches the ground."
    else:
        text = "There is no bar to clear, and the child reaches the ground from the lowest saddle."
    return Notice("lowest_saddle", text)


def _low_saddle(fit: Fit, audience: Audience) -> Notice:
    enough = fit.inseam.mean_mm >= fit.changes.good_from_mm
    how = "with both feet flat" if fit.rider.skill == "first_pedals" else "on tiptoe"
    if audience == "staff":
        text = f"Lowest saddle asks for an inseam of {fit.changes.good_from_mm:.0f} mm {how}."
    elif enough:
        text = f"From the lowest saddle the child reaches the ground {how}."
    else:
        text = f"From the lowest saddle the child does not reach the ground {how}."
    return Notice("lowest_saddle", text)


def _cramped(fit: Fit, seat: Cockpit | Refusal, audience: Audience) -> Notice:
    if fit.probabilities["cramped"] >= 0.8:
        certain = ""
    else:
        certain = "probably " if fit.verdict == "cramped" else "perhaps "
    match fit.changes.cramped_by:
        case "saddle":
            text = f"The saddle at its highest is {certain}too low for these legs"
            if isinstance(seat, Cockpit):
                text += f", and the knees come within {both_units(seat.knee_gap_mm)} of the grips"
            text += "."
        case "knees":
            text = f"The knees are {certain}too near the handlebar at the top of each turn."
        case _:
            text = (
                f"So much clearance says that the bicycle is {certain}too small; its saddle heights"
                " would tell."
            )
    if audience == "staff":
        text += (
            f" Outgrown from an inseam of {fit.changes.cramped_from_mm:.0f} mm,"
            f" sd {fit.changes.cramped_sd_mm:.0f} mm."
        )
    return Notice(f"cramped_{fit.changes.cramped_by}", text)


def _room(fit: Fit, audience: Audience) -> Notice:
    text = f"It lasts until the legs are about {both_units(fit.room_to_grow_mm)} longer."
    if audience == "staff":
        text += (
            f" Outgrown from an inseam of {fit.changes.cramped_from_mm:.0f} mm,"
            f" sd {fit.changes.cramped_sd_mm:.0f} mm ({fit.changes.cramped_by})."
        )
    return Notice("room_to_grow", text)


def _risk(fit: Fit, audience: Audience) -> Notice:
    risk = fit.probabilities["contact"]
    if risk <= fit.policy.max_contact_risk:
        text = "It is probably clear of the bar, but with less to spare than wanted."
        if fit.probabilities["cramped"] > 0.3:
            text = "It is clear of the bar, but may be outgrown already."
        return Notice("not_likely_enough", text)
    limit = f"{fit.policy.max_contact_risk:.1%}"
    if audience == "staff":
        return Notice("contact_risk", f"P(contact) {risk:.1%}, guard band {limit}.")
    return Notice(
        "contact_risk",
        f"With what is known the chance that the bar touches is {chance_text(risk)}; a bicycle is"
        f" recommended only below {limit}.",
    )


def cautions(fit: Fit) -> tuple[Notice, ...]:
    """What to mind about this bicycle, beyond :data:`GENERAL_CAUTIONS`."""
    bicycle, changes = fit.bicycle, fit.changes
    seat = _seat_of(fit)
    found = [
        (bicycle.standover_source != "measured" and bicycle.has_top_tube, _NOT_MEASURED),
        (bicycle.frame == "sloping", _SLOPING),
        (bicycle.frame == "unknown", _FRAME_UNKNOWN),
        (not bicycle.has_top_tube, _STEP_THROUGH),
        (fit.policy.stretch and fit.verdict == "tight" and fit.recommended, _STRETCH),
        (changes.cramped_by == "lift", _GUESS),
        (isinstance(seat, Cockpit) and _toes_meet(seat), _TOE_OVERLAP),
        (isinstance(seat, Cockpit) and seat.overreach_mm > 0, _OVERREACH),
        (isinstance(seat, Cockpit) and seat.hip_angle_rad < CROWDED_HIP_RAD, _CROWDED),
    ]
    notices = [notice for is_so, notice in found if is_so]
    if isinstance(bicycle.tyre, AmbiguousMarking):
        notices.append(Notice("tyre_ambiguous", f"Tyre: {bicycle.tyre}."))
    return tuple(notices)


def _toes_meet(seat: Cockpit) -> bool:
    return seat.toe_room_mm is not None and seat.toe_room_mm < 0


_NOT_MEASURED: Final = Notice(
    "standover_not_measured",
    "Its standover height was not measured in the shop, and makers' figures can be off by an inch."
    " Measure it before deciding.",
)
_SLOPING: Final = Notice(
    "sloping_bar",
    "The bar rises towards the front: stand over it just ahead of the saddle, and mind that a child"
    " who slides forward has less room.",
)
_FRAME_UNKNOWN: Final = Notice(
    "frame_unknown", "The shape of its frame is not known; it is judged as if it had a top bar."
)
_STEP_THROUGH: Final = Notice(
    "step_through",
    "Judged by its saddle. The federal rule (16 CFR 1512.19) states a step-through's leg length as"
    " if it had the bar of the matching closed frame.",
)
_STRETCH: Final = Notice(
    "stretch",
    "It has less clearance than wanted, accepted to grow into: an adult holds it at first starts"
    " and stops.",
)
_GUESS: Final = Notice(
    "geometry_missing",
    "Without its saddle heights, when it is outgrown is only a guess from the standover.",
)
_TOE_OVERLAP: Final = Notice(
    "toe_overlap", "The toes can touch the front tyre when the bar is turned at low speed."
)
_OVERREACH: Final = Notice(
    "overreach", "The grips are farther away than the child's arms reach comfortably."
)
_CROWDED: Final = Notice("crowded", "The thighs come up close to the body at each turn.")


def settle_text(fit: Fit) -> str:
    """What would settle this bicycle if it is unsure, as one sentence."""
    return _settle_sentence(settle_by(fit))


def _settle_sentence(settle: Settle) -> str:
    action = {
        "measure_bicycle": "measure this bicycle in the shop with a tape",
        "second_photo": "take a second photo",
        "tape": "measure the inseam with a tape against a wall, twice",
        "repeat_tape": "measure the inseam with the tape two more times",
        "try_in_person": "let the child try this bicycle",
    }[settle.action]
    half_mm = COVERAGE_FACTOR_95 * settle.sd_mm
    return f"What matters most here is the {settle.source} (± {half_mm:.0f} mm): {action}."


def choice_text(choice: Choice | NoneFits) -> str:
    """Best, runner-up and next size, or what to look for, in a few sentences."""
    if isinstance(choice, NoneFits):
        low_mm, high_mm = choice.wanted_standover_mm
        text = (
            "None of these fits. Look for a standover height between"
            f" {both_units(low_mm)} and {both_units(high_mm)}."
        )
        return text + _next_size_text(choice.next_size)
    text = (
        f"{choice.best.bicycle.name}: {headline(choice.best).lower()}; room for"
        f" {both_units(choice.best.room_to_grow_mm)} of growth in the legs."
    )
    if choice.runner_up:
        text += (
            f" Runner-up: {choice.runner_up.bicycle.name}, with"
            f" {both_units(choice.runner_up.room_to_grow_mm)}."
        )
    return text + _next_size_text(choice.next_size)


def _next_size_text(next_size: NextSize | None) -> str:
    if next_size is None:
        return ""
    return (
        f" Next size up: {next_size.fit.bicycle.name}; the chance that the child can stand over it"
        f" today is {chance_text(next_size.safe_today)}, and it could be recommended from an inseam of"
        f" {both_units(next_size.wanted_inseam_mm)}."
    )
