"""The frames of one clip become one inseam: of one child, by one camera, in one stance."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from pose_fit.body.body import PoseModel
from pose_fit.errors import InputError
from pose_fit.inseam.clip_frames import as_frame_of_clip
from pose_fit.inseam.combine import combine_inseams
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.metrology.units import both_units
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Notice
from pose_fit.scene import PhotoRefusal
from pose_fit.task.photo_task import PhotoTask

__all__ = ["measure_clip"]

#: Frames of one child lie farther apart than this, in standard uncertainties of one of them, only
#: where something else was measured in one of them.
_MOST_APART: Final = 2.5


def measure_clip(
    frames: Sequence[Photo], task: PhotoTask, *, pose: PoseModel | None = None
) -> PhotoMeasurement | PhotoRefusal:
    """The measurement of the surest frame with the inseam of all that could be measured.

    Parameters
    ----------
    frames
        As :func:`pose_fit.photo.clip.read_clip` gives them, at least one.

    Raises
    ------
    InputError
        Points that belong to one picture, which no clip is, or as :func:`measure_photo` raises.
    """
    stated = task.stated
    if len(frames) > 1 and (
        task.reference.points_px or stated.crotch_px or stated.floor_px or stated.joints_px
    ):
        raise InputError("points belong to one picture, found a clip; take a photo of it instead")
    results = [measure_photo(frame, task, pose=pose) for frame in frames]
    first, measured = results[0], [r for r in results if isinstance(r, PhotoMeasurement)]
    if isinstance(first, PhotoRefusal) and not measured:
        return first
    best = min(measured, key=lambda result: result.inseam.sd_mm)
    if len(measured) == 1:
        return best
    means_mm = [result.inseam.mean_mm for result in measured]
    if max(means_mm) - min(means_mm) > _MOST_APART * best.inseam.sd_mm:
        return _disagreement(first, min(means_mm), max(means_mm))
    together = combine_inseams([as_frame_of_clip(result.inseam) for result in measured])
    told = Notice(
        "clip_frames",
        f"{len(measured)} of the {len(frames)} chosen frames of the clip were measured, between"
        f" {both_units(min(means_mm))} and {both_units(max(means_mm))}.",
    )
    inseam = replace(together.inseam, method="photo").with_warnings(told)
    return replace(best, inseam=inseam)


def _disagreement(
    first: PhotoMeasurement | PhotoRefusal, low_mm: float, high_mm: float
) -> PhotoRefusal:
    """Frames that tell different lengths, with what was found in the first."""
    reason = Notice(
        "frames_disagree",
        f"The frames of the clip say {both_units(low_mm)} to {both_units(high_mm)}: in some of them"
        " something else was measured.",
    )
    remedy = "Have the child stand still while you film, or take a photo."
    found = first.observed if isinstance(first, PhotoMeasurement) else first
    return PhotoRefusal((reason,), (remedy,), body=found.body, reference=found.reference)
