"""Bring own pictures, or a sample; each page keeps its pictures for the session."""

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

import streamlit as st
from streamlit.runtime.memory_uploaded_file_manager import MemoryUploadedFileManager
from streamlit.runtime.scriptrunner import get_script_run_ctx

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.child_form import child_of, uses_child
from pose_fit.app.inputs.file_field import file_field
from pose_fit.app.inputs.pointing import points_of
from pose_fit.app.inputs.reference_form import forget_object, object_of
from pose_fit.app.inputs.uploads import Sample
from pose_fit.app.inputs.worn import copy_worn
from pose_fit.app.known_object import FOUND_BY_ITSELF, ObjectOfKnownSize
from pose_fit.app.measuring import first_question, keep_answers
from pose_fit.app.question import Question
from pose_fit.app.session import Shot, forget_shot, said_of, shots
from pose_fit.app.session_pose import session_pose
from pose_fit.app.settings import UPLOAD_LIMIT_MB
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.notice_texts import MESSAGES
from pose_fit.app.turns import Turns
from pose_fit.app.views.messages import fault_text
from pose_fit.app.views.progress_view import Progress
from pose_fit.app.worker_jobs import Opened, open_upload
from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.errors import PhotoFileError, WorkStoppedError
from pose_fit.metrology.units import parse_length_mm
from pose_fit.photo.photo import read_photo
from pose_fit.task.stated import Stated
from pose_fit.workers.worker_pool import Job

__all__ = [
    "PICTURES",
    "ask_pictures",
    "remove_all",
    "remove_picture",
    "stop_pictures",
    "take_sample",
    "take_uploads",
    "turn_picture",
]

#: Any picture and any short film: so a phone offers its camera too.
PICTURES: Final = ("image/*", "video/*", ".heic", ".heif")
#: Frames taken of a clip: as many as the page asks for pictures.
_FRAMES: Final = 3
_SAMPLE: Final = "sample."


def take_uploads(page: str, *, progress: Progress) -> None:
    """Keep the pictures that came with this run, measured where their question is known.

    ``progress`` is shown meanwhile.
    """
    uploads = st.session_state.get(_upload_key(page))
    if not uploads:
        return
    progress.show()
    with Turns() as turns:
        asked = first_question(
            object_of(page), child_of(page), before=_own(page), use_child=uses_child(page)
        )
        jobs = [(upload.name, *_opening(page, upload, asked, turns)) for upload in uploads]
        faults = []
        for place, (name, key, opening) in enumerate(jobs):
            tell = progress.teller(number=place + 1, count=len(jobs), name=name)
            try:
                _keep(page, key, turns.outcome(opening, tell=tell) if opening else ())
            except (PhotoFileError, WorkStoppedError) as error:
                faults.append(fault_text(error))
    st.session_state[f"{page}.faults"] = faults
    _empty_upload(page)
    _let_go_of(uploads)


def ask_pictures(page: str, label: str, *, note: str) -> None:
    """A button for pictures, which :func:`take_uploads` takes in the next run."""
    file_field(
        page,
        label,
        types=PICTURES,
        key=_upload_key(page),
        refused=in_language(MESSAGES).refused_file.format(limit=UPLOAD_LIMIT_MB),
        multiple=True,
    )
    st.caption(note.format(limit=UPLOAD_LIMIT_MB))
    for fault in st.session_state.get(f"{page}.faults", ()):
        st.error(fault, icon=":material/broken_image:")


def stop_pictures(page: str) -> None:
    """Let go of the pictures that gave nothing yet; what was measured before stays."""
    _empty_upload(page)
    for shot in list(shots(page).values()):
        if said_of(shot).answer is None:
            remove_picture(page, shot)


def _empty_upload(page: str) -> None:
    # A new key empties the upload field.
    st.session_state[_round_key(page)] = st.session_state.get(_round_key(page), 0) + 1


def _let_go_of(uploads: Sequence[Any]) -> None:
    """Streamlit keeps the files until the session ends, metadata and all."""
    run = get_script_run_ctx()
    if run is not None and isinstance(run.uploaded_file_mgr, MemoryUploadedFileManager):
        for upload in uploads:
            run.uploaded_file_mgr.remove_file(session_id=run.session_id, file_id=upload.file_id)


def _round_key(page: str) -> str:
    return f"{page}.upload_round"


def _upload_key(page: str) -> str:
    return f"{page}.upload.{st.session_state.get(_round_key(page), 0)}"


def take_sample(page: str, sample: Sample) -> None:
    """Look at a sample instead, with what is true of it; it belongs to that picture alone."""
    remove_all(page)
    truth = sample.truth
    shot = Shot(f"{_SAMPLE}{page}.{sample.path.stem}", sample.path.name, read_photo(sample.path))
    shots(page)[shot.key] = shot
    said = said_of(shot)
    said.stated = Stated(soles_mm=float(truth["soles_mm"]), heels_down=truth["heels_down"])
    said.answered |= {"feet"}
    said.child = Child(age_y=truth["age_years"], sex=truth["sex"])
    said.known_object = _object_of(truth)
    if truth["points"] is not None:
        places = (place.split(",") for place in truth["points"].split())
        points_of(shot, f"reference.{truth['reference']}")[:] = [
            (float(x), float(y)) for x, y in places
        ]


def remove_picture(page: str, shot: Shot) -> None:
    """Let go of a picture and everything found in it."""
    session_pose().forget(shot.photo)
    forget_shot(page, shot)
    if not shots(page):
        forget_object(page)


def turn_picture(page: str, shot: Shot, quarters: int) -> None:
    """Turn a picture to the left by so many quarters; it is measured again, with what was said of it."""
    session_pose().forget(shot.photo)
    shots(page)[shot.key] = replace(shot, photo=shot.photo.turned(quarters))
    said = said_of(shot)
    said.answer = said.supposed = said.shown = said.faces = None


def remove_all(page: str) -> None:
    """Let go of all pictures of the page."""
    for shot in list(shots(page).values()):
        remove_picture(page, shot)
    st.session_state.pop(f"{page}.faults", None)


def _own(page: str) -> list[Shot]:
    return [shot for shot in shots(page).values() if not shot.key.startswith(_SAMPLE)]


def _opening(
    page: str, upload: Any, asked: Question | None, turns: Turns
) -> tuple[str, Job[tuple[Opened, ...]] | None]:
    """The key of an upload, and a turn to open it; None where it is kept already."""
    data: bytes = upload.getvalue()
    key = f"{page}.{hashlib.sha256(data).hexdigest()[:16]}"
    if any(kept.startswith(key) for kept in shots(page)):
        return key, None
    return key, turns.submit(open_upload, upload.name, data, _FRAMES, asked)


def _keep(page: str, key: str, pictures: tuple[Opened, ...]) -> None:
    """Keep the pictures of an upload."""
    if not pictures:
        return
    # One's own picture is another child than the sample's.
    for other in list(shots(page).values()):
        if other.key.startswith(_SAMPLE):
            remove_picture(page, other)
    for number, opened in enumerate(pictures):
        before = list(shots(page).values())
        shot = Shot(f"{key}.{number}", opened.photo.name, opened.photo)
        shots(page)[shot.key] = shot
        copy_worn(before, shot)
        keep_answers(shot, opened)


def _object_of(truth: dict[str, Any]) -> ObjectOfKnownSize:
    kind = truth["reference"]
    size_mm = tyre_width_mm = None
    if kind == "wheel":
        tyre = read_marking(truth["size"])
        assert isinstance(tyre, Tyre)
        size_mm, tyre_width_mm = tyre.outside_diameter_mm, tyre.width_mm
    elif truth["size"] is not None:
        size_mm = parse_length_mm(truth["size"])
    return ObjectOfKnownSize(
        kind,
        size_mm,
        tyre_width_mm,
        truth["placement"],
        truth["ruler_mm"],
        by_hand=kind not in FOUND_BY_ITSELF,
    )
