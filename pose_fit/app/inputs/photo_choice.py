"""Pick a sample picture or bring own ones; each page keeps its pictures for the session."""

import hashlib
from dataclasses import dataclass
from typing import Any

import streamlit as st
from PIL import Image

from pose_fit.app.inputs.pointing import points_of
from pose_fit.app.inputs.uploads import PICTURE_TYPES, Sample, photo_of_upload, samples
from pose_fit.app.inputs.worn import fill_in_worn
from pose_fit.app.session import FIELD, Shot, shots
from pose_fit.app.session_pose import session_pose
from pose_fit.app.settings import UPLOAD_LIMIT_MB
from pose_fit.app.style import thumbnail
from pose_fit.errors import PhotoFileError
from pose_fit.photo.photo import read_photo

__all__ = ["choose_shots"]

_OWN, _SAMPLE = "My own pictures", "A sample picture"


def choose_shots(page: str) -> list[Shot]:
    """The pictures to measure, none while nothing was chosen."""
    offered = samples()
    source = _OWN
    if offered:
        source = st.radio("Picture", (_OWN, _SAMPLE), key=f"{FIELD}{page}.source", horizontal=True)
    if source == _SAMPLE:
        return [_sample_shot(page, offered)]
    return _own_shots(page)


def _own_shots(page: str) -> list[Shot]:
    kept = shots(page)
    # A new key empties the upload field once its pictures are kept here.
    round_key = f"{page}.upload_round"
    number = st.session_state.setdefault(round_key, 0)
    uploads = st.file_uploader(
        "Upload pictures, or take one with the phone’s camera",
        type=list(PICTURE_TYPES),
        accept_multiple_files=True,
        key=f"{page}.upload.{number}",
        help=f"JPEG, PNG, WebP or HEIC, up to {UPLOAD_LIMIT_MB} MB. Pictures stay in the memory of"
        " this machine and are forgotten when you leave. Nothing is sent on.",
    )
    if uploads:
        faults = [fault for upload in uploads if (fault := _keep(page, upload)) is not None]
        st.session_state[f"{page}.faults"] = faults
        st.session_state[round_key] = number + 1
        st.rerun()
    for fault in st.session_state.get(f"{page}.faults", ()):
        st.error(fault, icon=":material/broken_image:")
    for place, shot in enumerate(list(kept.values())):
        with st.container(horizontal=True, vertical_alignment="center"):
            thumbnail(
                Image.fromarray(shot.photo.pixels),
                alt=f"Your picture {shot.name}",
                text=f"{shot.name}, {shot.photo.width_px} × {shot.photo.height_px} pixels",
            )
            if st.button("Remove", key=f"remove.{page}.{place}"):
                _forget(page, shot)
                st.rerun()
    return list(kept.values())


def _keep(page: str, upload: Any) -> str | None:
    """Decode an upload and keep it; what is wrong with it otherwise."""
    data: bytes = upload.getvalue()
    key = f"{page}.{hashlib.sha256(data).hexdigest()[:16]}"
    try:
        with st.spinner(f"Opening {upload.name} …"):
            shots(page)[key] = Shot(key, upload.name, photo_of_upload(upload.name, data))
    except PhotoFileError as error:
        return str(error)
    return None


def _forget(page: str, shot: Shot) -> None:
    """Let go of a picture and everything found in it."""
    shots(page).pop(shot.key, None)
    session_pose().forget(shot.photo)
    for key in [key for key in st.session_state if shot.key in str(key)]:
        del st.session_state[key]


@dataclass(frozen=True, slots=True, eq=False)
class _Loaded:
    sample: Sample
    shot: Shot


def _sample_shot(page: str, offered: tuple[Sample, ...]) -> Shot:
    by_title = {sample.title: sample for sample in offered}
    title = st.selectbox("Sample", tuple(by_title), key=f"{FIELD}{page}.sample")
    loaded: _Loaded | None = st.session_state.get(f"sample.{page}")
    if loaded is None or loaded.sample.title != title:
        sample = by_title[title]
        shot = Shot(f"sample.{sample.path.stem}", sample.path.name, read_photo(sample.path))
        loaded = _Loaded(sample, shot)
        st.session_state[f"sample.{page}"] = loaded
        _fill_in(page, loaded)
    st.caption(
        "A rendered child, nobody’s photo. Its object and age are filled in below, and its true"
        f" inseam is {loaded.sample.truth['inseam_mm'] / 25.4:.1f} in"
        f" ({loaded.sample.truth['inseam_mm'] / 10:.1f} cm)."
    )
    return loaded.shot


def _fill_in(page: str, loaded: _Loaded) -> None:
    """Fill the fields with what is true of the sample."""
    truth, state = loaded.sample.truth, st.session_state
    kind = truth["reference"]
    state[f"{FIELD}{page}.kind"] = kind
    state[f"{FIELD}{page}.placement.{kind}"] = truth["plane"]
    state[f"{FIELD}{page}.by_hand"] = False
    state[f"{FIELD}{page}.age"] = min(max(round(2 * truth["age_years"]) / 2, 2.0), 18.0)
    state[f"{FIELD}{page}.sex"] = truth["sex"]
    fill_in_worn(page, soles_mm=float(truth["soles_mm"]), heels_down=truth["heels_down"])
    match kind:
        case "sheet":
            state[f"{FIELD}{page}.ruler"] = truth["ruler_mm"]
        case "door" | "length":
            state[f"{FIELD}{page}.{kind}"] = truth["size"]
        case "wheel":
            state[f"{FIELD}{page}.tyre"] = truth["size"]
    if truth["points"] is not None:
        places = (place.split(",") for place in truth["points"].split())
        points_of(loaded.shot, f"reference.{kind}")[:] = [(float(x), float(y)) for x, y in places]
