"""When readings together are no answer: they disagree, or no such child has such legs."""

from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.inseam.against_child import against_child
from pose_fit.inseam.inseam import Inseam
from pose_fit.notice_codes import NoticeCode
from pose_fit.refusal import Refusal

__all__ = ["TAPE_DISAGREES", "contradiction"]

#: Readings of one tape that are too far apart to be averaged: nobody knows which is wrong.
TAPE_DISAGREES: Final[frozenset[NoticeCode]] = frozenset(
    {"tape_odd_reading", "tape_readings_disagree"}
)
_GIVE_ALL: Final = "Measure once more, and give every reading but the slip."
_MEASURE_AGAIN: Final = (
    "Measure again from the floor to the crotch, and check --age and --stature; leave out the one"
    " that may be wrong."
)
_STATE_AGE: Final = "If it is the inseam, the age will tell: state it with --age."


def contradiction(inseam: Inseam, child: Child) -> Refusal | None:
    """Why nothing is advised by this inseam; None where nothing speaks against it.

    Parameters
    ----------
    inseam
        Of all readings of the child, with their questions among its warnings.
    child
        On the day of the inseam.
    """
    apart = tuple(one for one in inseam.warnings if one.code in TAPE_DISAGREES)
    if apart:
        return Refusal(apart, (_GIVE_ALL,))
    reasons = against_child(inseam, child)
    if not reasons:
        return None
    is_far_off = any(one.code == "inseam_implausible" for one in reasons)
    return Refusal(reasons, (_MEASURE_AGAIN if is_far_off else _STATE_AGE,))
