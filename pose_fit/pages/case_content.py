"""What a family measured, put together for the shop's case book."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.casebook.case import PhotoRecord, PicturePoint
from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.pages.measuring import Outcome
from pose_fit.pages.reference_form import ObjectOfKnownSize
from pose_fit.privacy import with_face_hidden

__all__ = ["estimate_of", "hidden_picture", "photo_record"]


def estimate_of(inseams: Sequence[Inseam]) -> Inseam | None:
    """One inseam from all; None from none."""
    if len(inseams) > 1:
        return combine_inseams(inseams).inseam
    return inseams[0] if inseams else None


def photo_record(outcome: Outcome, asked: ObjectOfKnownSize) -> PhotoRecord:
    """What a picture was measured with; its points where it was measured."""
    photo, result = outcome.shot.photo, outcome.result
    points: list[PicturePoint] = []
    if isinstance(result, PhotoMeasurement):
        for landmark in LEG_LANDMARKS:
            x_px, y_px = result.sights.body.point_px(landmark)
            points.append(PicturePoint(landmark, float(x_px), float(y_px)))
    for number, (x_px, y_px) in enumerate(outcome.points_px or (), start=1):
        points.append(PicturePoint(f"reference {number}", x_px, y_px))
    return PhotoRecord(
        width_px=photo.width_px,
        height_px=photo.height_px,
        focal_35mm=photo.focal_35mm,
        reshaped=photo.reshaped,
        taken_on=photo.taken_on,
        reference=asked.kind,
        size_mm=asked.size_mm,
        ruler_mm=asked.ruler_mm,
        mount=asked.mount,
        points=tuple(points),
    )


def hidden_picture(outcome: Outcome) -> NDArray[np.uint8] | None:
    """The picture with its face hidden; None where nobody was found whose face could be hidden."""
    if not isinstance(outcome.result, PhotoMeasurement):
        return None
    return with_face_hidden(outcome.shot.photo, outcome.result.sights.body)
