"""What a family measured, put together for the shop's case book."""

from collections.abc import Sequence

from pose_fit.app.inputs.correcting import Moves
from pose_fit.app.inputs.reference_form import ObjectOfKnownSize
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


def photo_record(outcome: Outcome, asked: ObjectOfKnownSize) -> PhotoRecord:
    """What a picture was measured with; its points where it was measured."""
    photo, question = outcome.shot.photo, outcome.question
    marks = dict(question.moved_px)
    if isinstance(outcome.result, PhotoMeasurement):
        marks |= joint_places(outcome.result)
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
        tyre_width_mm=asked.tyre_width_mm,
        soles_mm=question.worn.soles_mm,
        legwear=question.worn.legwear,
        heels_down=question.worn.heels_down,
        points=picture_points(marks, question.points_px or ()),
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
