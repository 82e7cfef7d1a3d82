"""What to be careful about: with every advice, and with one bicycle."""

from collections.abc import Mapping
from typing import Final

from pose_fit.bicycle.tyre import AmbiguousMarking
from pose_fit.fit.cockpit import CROWDED_HIP_RAD, Cockpit, cockpit
from pose_fit.fit.judge import Fit
from pose_fit.fit.shown import UNSETTLED
from pose_fit.notice_codes import NoticeCode
from pose_fit.refusal import Notice, Refusal

__all__ = ["GENERAL_CAUTIONS", "cautions", "seat_of", "told_cautions"]

#: What every advice carries, however sure it is.
GENERAL_CAUTIONS: Final = (
    "This helps to choose which bicycles to try. Then let the child stand over the bicycle in riding"
    " shoes, both feet flat on the ground, with an adult holding it.",
    "A qualified fitter decides. Brakes, steering and bolts are checked before the first ride.",
    "A helmet that fits on every ride. Ask what else the law asks for where you live.",
)

#: Probability of contact or of being outgrown above which the seat is not worth working out.
_HOPELESS: Final = 0.999
#: Largest wheels on which children usually learn to ride (common practice, no source).
_LEARNER_WHEELS_IN: Final = 16.0


def seat_of(fit: Fit) -> Cockpit | Refusal:
    """How the child sits on it; refused where that is not worth telling, or not known."""
    if max(fit.probabilities["contact"], fit.probabilities["cramped"]) > _HOPELESS:
        return Refusal.because("hopeless", "Far too big or too small to sit on.")
    return cockpit(fit.inseam.mean_mm, fit.bicycle, rider=fit.rider)


def cautions(fit: Fit) -> tuple[Notice, ...]:
    """Cautions about this bicycle, beyond :data:`GENERAL_CAUTIONS`."""
    bicycle = fit.bicycle
    seat = seat_of(fit)
    found = [
        (_may_be_learned_on(fit) and fit.feet not in (None, "both feet flat"), _LEARNER),
        (bicycle.standover_source != "measured" and bicycle.has_top_tube, _NOT_MEASURED),
        (bicycle.frame == "sloping", _SLOPING),
        (bicycle.frame == "unknown" and bicycle.pedals, _FRAME_UNKNOWN),
        (not bicycle.has_top_tube and bicycle.pedals, _STEP_THROUGH),
        (not bicycle.pedals, _NO_PEDALS),
        (fit.policy.stretch and fit.verdict == "tight" and fit.recommended, _STRETCH),
        (fit.changes.cramped_by == "lift", _GUESS),
        (isinstance(seat, Cockpit) and _toes_meet(seat), _TOE_OVERLAP),
        (isinstance(seat, Cockpit) and seat.overreach_mm > 0, _OVERREACH),
        (isinstance(seat, Cockpit) and seat.hip_angle_rad < CROWDED_HIP_RAD, _CROWDED),
    ]
    notices = [notice for is_so, notice in found if is_so]
    if isinstance(bicycle.tyre, AmbiguousMarking):
        notices.append(Notice("tyre_ambiguous", f"Tyre: {bicycle.tyre}."))
    return tuple(notices)


def told_cautions(fit: Fit) -> tuple[Notice, ...]:
    """The same for people: whatever asks for the bicycle's own measurements is one caution.

    Nobody need measure a bicycle that is surely too big or outgrown.
    """
    found = cautions(fit)
    if fit.shown in ("touching", "too big", "outgrown"):
        return tuple(notice for notice in found if notice.code not in _UNMEASURED)
    missing = [_UNMEASURED[notice.code] for notice in found if notice.code in _UNMEASURED]
    if len(missing) < 2:
        return found
    told = Notice(
        "bicycle_unmeasured", f"Measure this bicycle before deciding: {'; '.join(missing)}."
    )
    return (told, *(notice for notice in found if notice.code not in _UNMEASURED))


def _may_be_learned_on(fit: Fit) -> bool:
    """For a child who learns, or of the sizes on which children learn; of bicycles that may fit."""
    if not fit.bicycle.pedals or not (fit.recommended or fit.shown in UNSETTLED):
        return False
    return fit.rider.skill == "first_pedals" or (
        fit.bicycle.tyre.wheel_class_in <= _LEARNER_WHEELS_IN
    )


def _toes_meet(seat: Cockpit) -> bool:
    return seat.toe_room_mm is not None and seat.toe_room_mm < 0


_LEARNER: Final = Notice(
    "learner_feet",
    "A child who is still learning to ride needs both feet flat on the ground from the lowest"
    " saddle. On this bicycle that is not sure.",
)
_NOT_MEASURED: Final = Notice(
    "standover_not_measured",
    "Its standover height was not measured in the shop, and makers' figures can be off by an inch."
    " Measure it before deciding.",
)
_SLOPING: Final = Notice(
    "sloping_top_tube",
    "Stand over it just ahead of the saddle: further forward the top tube is higher.",
)
_FRAME_UNKNOWN: Final = Notice(
    "frame_unknown",
    "The shape of its frame is not known. It is judged as if it had a top tube to clear.",
)
_STEP_THROUGH: Final = Notice(
    "step_through",
    "It has no top tube, so its saddle decides. The United States rule (16 CFR 1512.19) measures such"
    " a frame as if it had one.",
)
_NO_PEDALS: Final = Notice(
    "no_pedals",
    "It has no pedals, and often no brake: the child stops with the feet. Keep away from slopes and"
    " traffic.",
)
_STRETCH: Final = Notice(
    "stretch",
    "It has less clearance than usual, so that the child can grow into it. An adult holds it at the"
    " first starts and stops.",
)
_GUESS: Final = Notice(
    "geometry_missing",
    "Without its saddle heights, when it is outgrown is only a guess from the standover height.",
)
_TOE_OVERLAP: Final = Notice(
    "toe_overlap", "The toes can touch the front tyre when the handlebar is turned at low speed."
)
_OVERREACH: Final = Notice(
    "overreach", "The grips are farther away than the child reaches comfortably."
)
_CROWDED: Final = Notice("crowded", "The thighs come up close to the body at each turn.")
#: What is not known of a bicycle, by the caution that says so alone.
_UNMEASURED: Final[Mapping[NoticeCode, str]] = {
    "standover_not_measured": "its standover height was not measured in the shop and can be off by an"
    " inch",
    "frame_unknown": "the shape of its frame is not known, so it is judged with a top tube",
    "geometry_missing": "without its saddle heights it is a guess when it is outgrown",
    "tyre_ambiguous": "its tyre’s full marking is not known",
}
