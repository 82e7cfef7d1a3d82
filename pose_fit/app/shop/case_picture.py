"""The kept picture of a case, measured again so that its marks can be seen and moved."""

import io
from dataclasses import replace

import numpy as np
import streamlit as st
from PIL import Image

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.case_content import estimate_of, joint_places, picture_points
from pose_fit.app.inputs.correcting import MARKS, Moves, joints_of, moves_of, offer_correcting
from pose_fit.app.inputs.reference_form import can_be_marked, least_points, mark_object, points_on
from pose_fit.app.session import Points, Shot
from pose_fit.app.session_pose import session_pose
from pose_fit.app.shop.case_changes import change_case
from pose_fit.app.style import picture
from pose_fit.app.views.messages import plain, show_refusal
from pose_fit.app.views.photo_view import marks_in_words, show_legend
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case, PhotoRecord
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.events import LandmarksAdjusted
from pose_fit.drawing.overlay import overlay_picture
from pose_fit.errors import ReferenceObjectError
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.metrology.units import both_units
from pose_fit.photo.photo import Photo, Place
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["show_case_picture"]


def show_case_picture(book: CaseBook, case: Case, *, by: str) -> None:
    """Picture with marks, and moving them."""
    record = case.content.photo
    jpeg = book.picture(case.case_id)
    if record is not None:
        _show_facts(record)
    if jpeg is None or record is None:
        st.caption("No picture is kept with this case.")
        return
    shot = _shot(book, case, record, jpeg)
    told = _asked_of_heels(shot, record)
    result = _measured(shot, case, told)
    if isinstance(result, PhotoMeasurement):
        picture(overlay_picture(result), alt=marks_in_words("The picture sent in", result))
        show_legend()
    else:
        picture(Image.fromarray(shot.photo.pixels), alt="The picture sent in, face hidden")
        if isinstance(result, Refusal):
            show_refusal(result)
        else:
            st.warning(plain(str(result)))
    if not isinstance(result, ReferenceObjectError):
        offer_correcting(shot, result)
    if can_be_marked(record.reference) and st.toggle(
        "Mark the object of known size", key=f"staff.mark.{shot.key}"
    ):
        mark_object(shot, record.reference)
    if isinstance(result, PhotoMeasurement) and (told != record or _is_moved(shot, record)):
        st.markdown(f"As changed: **{both_units(result.inseam.mean_mm)}**")
        if st.button("Keep the change", icon=":material/save:"):
            _keep(book, case, told, shot, result, by=by)


def _asked_of_heels(shot: Shot, record: PhotoRecord) -> PhotoRecord:
    """The record with what the family, asked by the staff, says of the heels."""
    if record.heels_down:
        return record
    said = st.checkbox("The family says that both heels were on the floor", key=f"heels.{shot.key}")
    return replace(record, heels_down=said)


def _show_facts(record: PhotoRecord) -> None:
    told = [
        f"object: {record.reference}",
        {"wall": "on the wall", "beside": "beside"}[record.placement],
    ]
    if record.size_mm is not None:
        told.append(both_units(record.size_mm))
    if record.soles_mm is not None:
        told.append(f"soles {record.soles_mm:g} mm" if record.soles_mm else "barefoot")
    if record.legwear is not None:
        told.append(f"legwear {record.legwear}")
    if record.heels_down:
        told.append("heels said to be on the floor")
    if record.ruler_mm is not None:
        told.append(f"ruler {record.ruler_mm:g} mm")
    if record.taken_on is not None:
        told.append(f"taken {record.taken_on:%Y-%m-%d}")
    st.caption(plain(", ".join(told)))


def _shot(book: CaseBook, case: Case, record: PhotoRecord, jpeg: bytes) -> Shot:
    """The picture as it was measured, once a version of the case."""
    key = f"case.{case.case_id}.{case.version}"
    kept: Shot | None = st.session_state.get(f"staff.shot.{key}")
    if kept is not None:
        return kept
    pixels = np.asarray(Image.open(io.BytesIO(jpeg)).convert("RGB"))
    photo = Photo(
        name=f"case {case.case_id}",
        pixels=pixels,
        width_px=record.width_px,
        height_px=record.height_px,
        focal_35mm=record.focal_35mm,
        reshaped=record.reshaped,
        taken_on=record.taken_on,
    )
    shot = Shot(key, photo.name, photo)
    body = book.body(case.case_id)
    if body is not None:
        # As it was seen before the face was hidden.
        session_pose().know(photo, body)
    st.session_state[f"staff.shot.{key}"] = shot
    # Marks stay where the estimate had them.
    moves_of(shot).update(_recorded_moves(record))
    points_on(shot, record.reference)[:] = _recorded_reference(record)
    return shot


def _recorded_moves(record: PhotoRecord) -> Moves:
    return {
        mark: (point.x_px, point.y_px)
        for point in record.points
        for mark in MARKS
        if point.name == mark
    }


def _recorded_reference(record: PhotoRecord) -> Points:
    return [(p.x_px, p.y_px) for p in record.points if p.name.startswith("reference ")]


def _marked_reference(shot: Shot, record: PhotoRecord) -> Points:
    """The points to measure with; none, so that the object is found, until all are marked."""
    if not can_be_marked(record.reference):
        return []
    points = points_on(shot, record.reference)
    if _recorded_reference(record) or len(points) >= least_points(record.reference):
        return points
    return []


def _is_moved(shot: Shot, record: PhotoRecord) -> bool:
    return moves_of(shot) != _recorded_moves(record) or (
        _marked_reference(shot, record) != _recorded_reference(record)
    )


def _measured(
    shot: Shot, case: Case, record: PhotoRecord
) -> PhotoMeasurement | Refusal | ReferenceObjectError:
    """Measured with what the family gave and what has been moved since."""
    marked, moves = _marked_reference(shot, record), moves_of(shot)
    # The child of a gift may have been younger in the picture than it is.
    child = case.content.child
    if case.content.needed_on is not None:
        child = Child(sex=child.sex)
    try:
        request = ReferenceRequest(
            kind=record.reference,
            size_mm=record.size_mm,
            width_mm=record.tyre_width_mm,
            points_px=tuple(marked) or None,
            placement=record.placement,
            ruler_mm=record.ruler_mm,
        )
        stated = Stated(
            soles_mm=record.soles_mm,
            legwear=record.legwear,
            heels_down=record.heels_down,
            crotch_px=moves.get("crotch"),
            floor_px=moves.get("floor"),
            person_px=_hips(record),
            joints_px=tuple(joints_of(moves).items()),
        )
        return measure_photo(shot.photo, PhotoTask(request, stated, child), pose=session_pose())
    except ReferenceObjectError as error:
        return error


def _hips(record: PhotoRecord) -> Place | None:
    """Between the hips of the child that was measured, which tells it from others."""
    hips = [point for point in record.points if point.name in ("left_hip", "right_hip")]
    if len(hips) != 2:
        return None
    left, right = hips
    return (left.x_px + right.x_px) / 2, (left.y_px + right.y_px) / 2


def _keep(
    book: CaseBook,
    case: Case,
    record: PhotoRecord,
    shot: Shot,
    result: PhotoMeasurement,
    *,
    by: str,
) -> None:
    points = picture_points(joint_places(result) | moves_of(shot), _marked_reference(shot, record))
    clues = [c.inseam for c in case.content.clues if not isinstance(c, RemarkClue)]
    estimate = estimate_of([result.inseam, *clues])
    assert estimate is not None
    change_case(book, case, LandmarksAdjusted(estimate, replace(record, points=points)), by=by)
