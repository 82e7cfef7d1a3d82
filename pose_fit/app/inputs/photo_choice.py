"""Bring own pictures, or a sample; each page keeps its pictures for the session."""

import hashlib
from collections.abc import Callable
from typing import Any, Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.pointing import points_of
from pose_fit.app.inputs.reference_form import forget_object
from pose_fit.app.inputs.uploads import Sample, photo_of_upload
from pose_fit.app.inputs.worn import copy_worn
from pose_fit.app.known_object import FOUND_BY_ITSELF, ObjectOfKnownSize
from pose_fit.app.session import Shot, forget_shot, said_of, shots
from pose_fit.app.session_pose import session_pose
from pose_fit.app.settings import UPLOAD_LIMIT_MB
from pose_fit.app.views.messages import fault_text
from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.errors import PhotoFileError
from pose_fit.metrology.units import parse_length_mm
from pose_fit.photo.clip import is_clip, read_clip
from pose_fit.photo.photo import read_photo
from pose_fit.task.stated import Stated

__all__ = [
    "PICTURES",
    "ask_pictures",
    "remove_all",
    "remove_picture",
    "take_sample",
    "take_uploads",
]

#: Any picture and any short film: so a phone offers its camera too.
PICTURES: Final = ("image/*", "video/*", ".heic", ".heif")
#: Frames taken of a clip: as many as the page asks for pictures.
_FRAMES: Final = 3
_SAMPLE: Final = "sample."


def take_uploads(page: str, *, on_arrival: Callable[[], None]) -> None:
    """Keep the pictures that came with this run; ``on_arrival`` is called before they are opened."""
    uploads = st.session_state.get(_upload_key(page))
    if not uploads:
        return
    on_arrival()
    faults = [fault for upload in uploads if (fault := _keep(page, upload)) is not None]
    st.session_state[f"{page}.faults"] = faults
    # A new key empties the upload field.
    st.session_state[_round_key(page)] = st.session_state.get(_round_key(page), 0) + 1


def ask_pictures(page: str, label: str, *, note: str) -> None:
    """A button for pictures, which :func:`take_uploads` takes in the next run."""
    # Streamlit's own words on its button are English alone.
    st.html(f'<style>.st-key-{page}_pictures {{ --pf-label: "{label}"; }}</style>')
    with st.container(key=f"{page}_pictures"):
        st.file_uploader(
            label,
            type=list(PICTURES),
            accept_multiple_files=True,
            key=_upload_key(page),
            label_visibility="collapsed",
        )
        st.caption(note.format(limit=UPLOAD_LIMIT_MB))
    for fault in st.session_state.get(f"{page}.faults", ()):
        st.error(fault, icon=":material/broken_image:")


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


def remove_all(page: str) -> None:
    """Let go of all pictures of the page."""
    for shot in list(shots(page).values()):
        remove_picture(page, shot)


def _keep(page: str, upload: Any) -> str | None:
    """Decode an upload and keep it; what is wrong with it otherwise."""
    data: bytes = upload.getvalue()
    key = f"{page}.{hashlib.sha256(data).hexdigest()[:16]}"
    if any(kept.startswith(key) for kept in shots(page)):
        return None
    try:
        if is_clip(data):
            photos = read_clip(data, name=upload.name, most=_FRAMES)
        else:
            photos = (photo_of_upload(upload.name, data),)
    except PhotoFileError as error:
        return fault_text(error)
    # One's own picture is another child than the sample's.
    for other in list(shots(page).values()):
        if other.key.startswith(_SAMPLE):
            remove_picture(page, other)
    for number, photo in enumerate(photos):
        before = list(shots(page).values())
        shot = Shot(f"{key}.{number}", photo.name, photo)
        shots(page)[shot.key] = shot
        copy_worn(before, shot)
    return None


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
