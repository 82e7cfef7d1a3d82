"""Does what is known of the child speak against this inseam? Then nothing is advised by it."""

from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.plausibility import implausible_notices, plausibilities
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice

__all__ = ["against_child"]

#: What somebody wrote down in place of the inseam.
_SLIPS: Final = frozenset({"tape_looks_like_stature", "tape_looks_like_trousers"})


def against_child(inseam: Inseam, child: Child) -> tuple[Notice, ...]:
    """That no child of the stated age or height has such legs; empty where some have.

    Parameters
    ----------
    inseam
        With the questions about its tape readings among the warnings.
    child
        At the time of the inseam. Nothing stated: only a whole height in place of the inseam
        speaks against it.

    Returns
    -------
    tuple of Notice
        Most telling first: what the reading may be instead says more than how far off it is.
    """
    judged = plausibilities(inseam.mean_mm, sd_mm=inseam.sd_mm, child=child)
    notices = implausible_notices(judged)
    asked = tuple(one for one in inseam.warnings if one.code in _SLIPS)
    is_height = any(one.code == "tape_looks_like_stature" for one in asked)
    return (*asked, *notices) if notices or is_height else ()
