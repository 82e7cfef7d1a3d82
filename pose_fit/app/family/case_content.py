"""What a family measured, put together for the shop's case book."""

from collections.abc import Sequence

from pose_fit.app.measuring import Outcome
from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.casebook.case import PhotoRecord, PicturePoint
from pose_fit.casebook.estimate import estimate_of
from pose_fit.measure import PhotoMeasurement
from pose_fit.refusal import Refusal

__all__ = ["estimate_of", "found_points", "photo_records"]


def photo_records(outcomes: Sequence[Outcome]) -> list[tuple[Outcome, PhotoRecord]]:
    """Each photo that was measured or refused, in the order given, with its record."""
    records = []
    for outcome in outcomes:
        photo, result = outcome.shot.photo, outcome.result
        if not isinstance(result, PhotoMeasurement | Refusal):
            continue
        record = PhotoRecord(
            width_px=photo.width_px,
            height_px=photo.height_px,
            focal_35mm=photo.focal_35mm,
            reshaped=photo.reshaped,
            taken_on=photo.taken_on,
            task=outcome.task,
            # What was found in the picture stays with the visitor.
            result=result.plain if isinstance(result, Refusal) else result.inseam,
            reference=None if isinstance(result, Refusal) else result.observed.reference.kind,
            points=() if isinstance(result, Refusal) else found_points(result),
        )
        records.append((outcome, record))
    return records


def found_points(result: PhotoMeasurement) -> tuple[PicturePoint, ...]:
    """Where the joints are that a picture was measured with."""
    places = (result.sights.body.point_px(landmark) for landmark in LEG_LANDMARKS)
    return tuple(
        PicturePoint(landmark, float(x_px), float(y_px))
        for landmark, (x_px, y_px) in zip(LEG_LANDMARKS, places, strict=True)
    )
