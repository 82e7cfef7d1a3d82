"""What a family measured, put together for the shop's case book."""

from collections.abc import Sequence

from pose_fit.app.inputs.correcting import Moves, moves_of
from pose_fit.app.measuring import Outcome
from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.casebook.case import PhotoRecord, PicturePoint
from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.photo.photo import Place

__all__ = ["estimate_of", "joint_places", "photo_record", "picture_points"]


def estimate_of(inseams: Sequence[Inseam]) -> Inseam | None:
    """One inseam from all; None from none."""
    if len(inseams) > 1:
        return combine_inseams(inseams).inseam
    return inseams[0] if inseams else None


def photo_record(outcome: Outcome) -> PhotoRecord | None:
    """What a picture was measured with; None where no object of known size was found in it."""
    photo, task = outcome.shot.photo, outcome.task
    if task is None:
        return None
    asked, stated = task.reference, task.stated
    marks = dict(moves_of(outcome.shot))
    if isinstance(outcome.result, PhotoMeasurement):
        marks |= joint_places(outcome.result)
    assert asked.placement is not None
    return PhotoRecord(
        width_px=photo.width_px,
        height_px=photo.height_px,
        focal_35mm=photo.focal_35mm,
        reshaped=photo.reshaped,
        taken_on=photo.taken_on,
        reference=asked.kind,
        size_mm=asked.size_mm,
        ruler_mm=asked.ruler_mm,
        placement=asked.placement,
        tyre_width_mm=asked.width_mm,
        soles_mm=stated.soles_mm,
        legwear=stated.legwear,
        heels_down=stated.heels_down,
        points=picture_points(marks, asked.points_px or ()),
    )


def joint_places(result: PhotoMeasurement) -> Moves:
    """Where the joints are that a picture was measured with."""
    places: Moves = {}
    for landmark in LEG_LANDMARKS:
        x_px, y_px = result.sights.body.point_px(landmark)
        places[landmark] = float(x_px), float(y_px)
    return places


def picture_points(marks: Moves, reference_px: Sequence[Place]) -> tuple[PicturePoint, ...]:
    """Joints, crotch and floor by their names, and the numbered points of the reference."""
    named = [PicturePoint(mark, *place) for mark, place in marks.items()]
    numbered = [
        PicturePoint(f"reference {number}", *place)
        for number, place in enumerate(reference_px, start=1)
    ]
    return (*named, *numbered)
