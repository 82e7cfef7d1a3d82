"""The kept picture of a case, measured again so that its marks can be seen and moved."""

import io
from dataclasses import replace

import numpy as np
import streamlit as st
from PIL import Image

from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.body.moved_joints import MovedJoints
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case, PhotoRecord, PicturePoint
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.events import LandmarksAdjusted
from pose_fit.errors import ReferenceObjectError
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.pages.case_changes import change_case
from pose_fit.pages.case_content import estimate_of
from pose_fit.pages.correcting import Moves, correct_joints, moves_of
from pose_fit.pages.messages import plain, show_refusal
from pose_fit.pages.photo_view import marks_in_words, show_legend
from pose_fit.pages.pose import session_pose
from pose_fit.pages.session import Shot
from pose_fit.pages.style import picture
from pose_fit.photo import Photo
from pose_fit.reference.find import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.report.overlay import overlay_picture
from pose_fit.units import both_units

__all__ = ["show_case_picture"]


def show_case_picture(book: CaseBook, case: Case, *, by: str) -> None:
    """Picture with marks, and moving its joints."""
    record = case.content.photo
    jpeg = book.picture(case.case_id)
    if record is not None:
        _show_facts(record)
    if jpeg is None or record is None:
        st.caption("No picture is kept with this case.")
        return
    shot = _shot(case, record, jpeg)
    result = _measured(shot, record)
    if not isinstance(result, PhotoMeasurement):
        picture(Image.fromarray(shot.photo.pixels), alt="The picture sent in, face hidden")
        if isinstance(result, Refusal):
            show_refusal(result)
        else:
            st.warning(plain(str(result)))
        return
    picture(overlay_picture(result), alt=marks_in_words("The picture sent in", result))
    show_legend()
    if st.toggle("Move hips, knees or ankles", key=f"staff.correct.{shot.key}"):
        correct_joints(shot, result.sights.body)
        if moves_of(shot) != _recorded(record):
            st.markdown(f"With the moved joints: **{both_units(result.inseam.mean_mm)}**")
            if st.button("Keep the moved joints", icon=":material/save:"):
                _keep(book, case, record, result, by=by)


def _show_facts(record: PhotoRecord) -> None:
    told = [
        f"object: {record.reference}",
        {"wall": "on the wall", "beside": "beside"}[record.mount],
    ]
    if record.size_mm is not None:
        told.append(both_units(record.size_mm))
    if record.ruler_mm is not None:
        told.append(f"ruler {record.ruler_mm:g} mm")
    if record.taken_on is not None:
        told.append(f"taken {record.taken_on:%Y-%m-%d}")
    st.caption(plain(", ".join(told)))


def _shot(case: Case, record: PhotoRecord, jpeg: bytes) -> Shot:
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
    st.session_state[f"staff.shot.{key}"] = shot
    # Joints stay where the estimate had them.
    moves_of(shot).update(_recorded(record))
    return shot


def _recorded(record: PhotoRecord) -> Moves:
    return {
        landmark: (point.x_px, point.y_px)
        for point in record.points
        for landmark in LEG_LANDMARKS
        if point.name == landmark
    }


def _measured(shot: Shot, record: PhotoRecord) -> PhotoMeasurement | Refusal | ReferenceObjectError:
    marked = [(p.x_px, p.y_px) for p in record.points if p.name.startswith("reference ")]
    try:
        request = ReferenceRequest(
            kind=record.reference,
            size_mm=record.size_mm,
            points_px=np.array(marked) if marked else None,
            mount=record.mount,
            ruler_mm=record.ruler_mm,
        )
        pose = MovedJoints(session_pose(), moves_of(shot))
        return measure_photo(shot.photo, request, pose=pose)
    except ReferenceObjectError as error:
        return error


def _keep(
    book: CaseBook, case: Case, record: PhotoRecord, result: PhotoMeasurement, *, by: str
) -> None:
    joints = [
        PicturePoint(name, *(float(value) for value in result.sights.body.point_px(name)))
        for name in LEG_LANDMARKS
    ]
    others = [point for point in record.points if point.name not in LEG_LANDMARKS]
    clues = [c.inseam for c in case.content.clues if not isinstance(c, RemarkClue)]
    estimate = estimate_of([result.inseam, *clues])
    assert estimate is not None
    change_case(
        book,
        case,
        LandmarksAdjusted(estimate, replace(record, points=(*joints, *others))),
        by=by,
    )
