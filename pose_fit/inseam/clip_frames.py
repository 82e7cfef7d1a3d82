"""Frames of one clip: one camera, one stance, the same cloth, so less of their error is their own."""

from dataclasses import replace
from typing import Final

from pose_fit.budget_sources import BudgetSource
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import UncertainLength

__all__ = ["as_frame_of_clip"]

#: What a small step of the camera changes; all else returns in every frame.
_OWN_OF_A_FRAME: Final[tuple[BudgetSource, ...]] = (
    "pose landmarks",
    "reference points",
    "camera tilt",
    "crotch edge",
)


def as_frame_of_clip(inseam: Inseam) -> Inseam:
    """The inseam with everything marked as shared that frames of one clip share."""
    budget = tuple(
        replace(line, shared=line.shared or line.source not in _OWN_OF_A_FRAME)
        for line in inseam.length.budget
    )
    return replace(inseam, length=UncertainLength(inseam.mean_mm, budget))
