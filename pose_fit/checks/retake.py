"""What would make a photo surer: advice by the sources that make up most of its uncertainty."""

from collections.abc import Mapping, Sequence
from typing import Final

from pose_fit.budget_sources import BudgetSource
from pose_fit.checks.stance import RAISED_HEELS
from pose_fit.checks.which_size import WHICH_SIZE
from pose_fit.inseam.photo_reading import BETWEEN_SOURCE
from pose_fit.metrology.uncertain import UncertainLength
from pose_fit.notice_codes import NoticeCode
from pose_fit.refusal import Notice
from pose_fit.task.legwear import Legwear

__all__ = ["POINTING_ADVICE", "advice_on", "advising_notice", "retake_advice"]

#: What to do about each source of uncertainty.
_RETAKE: Final[Mapping[BudgetSource, str]] = {
    "reference points": "Come closer or use a larger reference, so that it fills more of the picture.",
    "focal length": "Send the original picture file: messengers strip the lens data from it.",
    "lens": "Keep the child in the middle of the picture and do not use the widest lens.",
    "reference size": "Measure the reference with a tape (on the printed sheet, its ruler).",
    WHICH_SIZE: "Check the object’s size (on a wheel the code on the tyre). The child’s age or height"
    " tells it too.",
    "reference shape": "Use the printed sheet, whose shape is known exactly.",
    "camera tilt": "Hold the phone level at hip height, and hang the reference beside the knees.",
    "distance from the wall": "Have both heels touch the wall that the reference hangs on.",
    "posture": "Have the child stand straight, heels to the wall, facing the camera.",
    RAISED_HEELS: "Have the child stand with both heels flat on the floor.",
    "pose landmarks": "Take a second photo and give both: small errors even out.",
    "pose model": "Let the child wear close-fitting legwear in a colour unlike the wall.",
    "ankle height": "Measure with a tape too: ankles differ between children.",
    "hip to crotch": "Put the feet a hand apart in close-fitting legwear, so that the crotch shows.",
    "shoe soles": "Measure barefoot, or give the thickness of the soles.",
    "floor": "Leave a hand of floor visible below the feet, and the wall base beside them.",
    "foot length": "Have both heels touch the wall, toes forward.",
    "book": "Hold the book’s spine level, its label a little before the thighs.",
    "crotch edge": "Use more light, and legwear in a colour unlike the wall.",
    "crotch click": "Point at the crotch again, with the picture enlarged.",
    "floor click": "Point at the tip of the toes again, with the picture enlarged.",
    "clothing": "Have the child wear close-fitting legwear: loose cloth hides where the legs part.",
    BETWEEN_SOURCE: "Point at where the legs part and at where the toes meet the floor.",
}
#: Advice that who wears snug legwear has followed already.
_FOLLOWED_IF_SNUG: Final[BudgetSource] = "clothing"

#: Advice to whoever has the picture on the screen; another picture does not need it.
POINTING_ADVICE: Final = frozenset(
    _RETAKE[source] for source in ("crotch click", "floor click", BETWEEN_SOURCE)
)


#: Advice that a notice gives already, in words of its own.
_ADVISED_BY: Final[Mapping[NoticeCode, tuple[BudgetSource, ...]]] = {
    "size_on_trust": ("reference size", WHICH_SIZE),
    "print_scale_unknown": ("reference size", WHICH_SIZE),
    "door_height_assumed": ("reference size", WHICH_SIZE),
    "view_oblique": ("camera tilt",),
}


def advice_on(source: BudgetSource) -> str | None:
    """What to do about one source; None where nothing in the picture changes it."""
    return _RETAKE.get(source)


def advising_notice(notices: Sequence[Notice], advice: str) -> Notice | None:
    """The notice that asks for what this advice asks for; None where none does."""
    for notice in notices:
        if advice in map(advice_on, _ADVISED_BY.get(notice.code, ())):
            return notice
    return None


def retake_advice(length: UncertainLength, *, legwear: Legwear | None) -> tuple[str, ...]:
    """At most three things to do, those on the largest sources first."""
    total = sum(line.sd_mm**2 for line in length.budget)
    advice: list[str] = []
    explained = 0.0
    for line in length.budget:
        if explained > 0.6 * total or len(advice) == 3:
            break
        explained += line.sd_mm**2
        is_followed = legwear == "snug" and line.source == _FOLLOWED_IF_SNUG
        # Nothing in the picture changes what differs between children, or from pictures to people.
        todo = _RETAKE.get(line.source)
        if todo is not None and not is_followed and todo not in advice:
            advice.append(todo)
    return tuple(advice)
