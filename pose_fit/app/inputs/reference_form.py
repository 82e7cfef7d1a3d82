"""The object of known size: which it is, how large, where, and its points in each picture."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import streamlit as st

from pose_fit.app.inputs.lengths import length_field
from pose_fit.app.inputs.pointing import mark_points, points_of
from pose_fit.app.session import FIELD, Points, Shot
from pose_fit.app.style import card_title
from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.errors import InputError
from pose_fit.metrology.units import both_units
from pose_fit.reference.reference import Placement, ReferenceKind
from pose_fit.reference.request import ReferenceRequest
from pose_fit.reference.sheet import RULER_MM

__all__ = [
    "KIND_WORDS",
    "ObjectOfKnownSize",
    "ask_all_points",
    "ask_object",
    "can_be_marked",
    "least_points",
    "mark_object",
    "marked_points",
    "points_on",
]

KIND_WORDS: Final[dict[ReferenceKind, str]] = {
    "sheet": "The printed sheet from this page",
    "letter": "A blank sheet of Letter paper",
    "a4": "A blank sheet of A4 paper",
    "door": "A door",
    "wheel": "A bicycle wheel",
    "length": "Another length that you know",
}
_CORNERS: Final = ("top left corner", "top right corner", "bottom right corner")
_WANTED: Final[dict[ReferenceKind, tuple[str, ...]]] = {
    "letter": (*_CORNERS, "bottom left corner"),
    "a4": (*_CORNERS, "bottom left corner"),
    "door": (*_CORNERS, "bottom left corner"),
    "wheel": tuple(f"outer edge of the tyre, place {number}" for number in range(1, 6)),
    "length": ("one end", "the other end"),
}
_MORE: Final = "More points around the tyre make it surer."
#: Found without help; points are for when that fails.
_FOUND: Final = ("letter", "a4", "wheel")
_MOUNT_WORDS: Final[dict[Placement, str]] = {
    "wall": "On the wall at the child’s heels",
    "beside": "Beside the child, level with the legs",
}


@dataclass(frozen=True, slots=True)
class ObjectOfKnownSize:
    """What the visitor said of the object, for every picture it is in."""

    kind: ReferenceKind
    size_mm: float | None
    tyre_width_mm: float | None
    placement: Placement
    ruler_mm: float | None
    by_hand: bool

    def request(self, points_px: Sequence[tuple[float, float]] | None) -> ReferenceRequest:
        """The library's request for one picture.

        Raises
        ------
        ReferenceObjectError
            A size that cannot be, or points that are missing.
        """
        return ReferenceRequest(
            kind=self.kind,
            size_mm=self.size_mm,
            width_mm=self.tyre_width_mm,
            points_px=None if points_px is None else tuple(points_px),
            placement=self.placement,
            ruler_mm=self.ruler_mm,
        )

    @property
    def least_points(self) -> int:
        """How many points each picture needs."""
        return least_points(self.kind) if self.by_hand else 0


def ask_object(page: str, *, usual: ReferenceKind = "sheet") -> ObjectOfKnownSize | None:
    """Kind, size and place of the object; None while its size is missing or wrong."""
    key = f"{FIELD}{page}.kind"
    st.session_state.setdefault(key, usual)
    kind: ReferenceKind = st.selectbox(
        "Object of known size in the picture",
        tuple(KIND_WORDS),
        format_func=KIND_WORDS.__getitem__,
        key=key,
    )
    size = _ask_size(page, kind)
    ruler_mm = _ask_ruler(page) if kind == "sheet" else None
    placement = _ask_mount(page, kind)
    by_hand = kind in ("door", "length")
    if kind in _FOUND:
        by_hand = st.toggle(
            "Mark it by hand",
            key=f"{FIELD}{page}.by_hand",
            help="The program looks for it by itself. Mark it where it finds the wrong thing.",
        )
    if size is None:
        return None
    return ObjectOfKnownSize(kind, size.size_mm, size.tyre_width_mm, placement, ruler_mm, by_hand)


def ask_all_points(shots: Sequence[Shot], asked: ObjectOfKnownSize | None) -> None:
    """Let the visitor mark the object in each picture, where it is not found by itself."""
    if asked is None or not asked.by_hand:
        return
    for shot in shots:
        with st.container(border=True):
            card_title(f"Mark it in {shot.name}")
            mark_object(shot, asked.kind)


def marked_points(shot: Shot, asked: ObjectOfKnownSize) -> list[tuple[float, float]] | None:
    """The points marked so far, without asking for them."""
    return points_on(shot, asked.kind) if asked.by_hand else None


def can_be_marked(kind: ReferenceKind) -> bool:
    """The printed sheet has no points for a hand: its own marks are found or it is not there."""
    return kind in _WANTED


def least_points(kind: ReferenceKind) -> int:
    """How many points mark such an object."""
    return len(_WANTED[kind])


def mark_object(shot: Shot, kind: ReferenceKind) -> None:
    """Let somebody mark the object in one picture."""
    more = _MORE if kind == "wheel" else None
    mark_points(shot, _name(kind), wanted=_WANTED[kind], more=more)


def points_on(shot: Shot, kind: ReferenceKind) -> Points:
    """The points marked so far on the object in one picture."""
    return points_of(shot, _name(kind))


def _name(kind: ReferenceKind) -> str:
    return f"reference.{kind}"


@dataclass(frozen=True, slots=True)
class _Size:
    size_mm: float | None = None
    tyre_width_mm: float | None = None


def _ask_size(page: str, kind: ReferenceKind) -> _Size | None:
    """The size, empty where the kind needs none; None while it is missing or wrong."""
    if kind == "door":
        note = "Measure the door leaf, floor gap left out. Empty: 80 in is assumed."
        return _Size(length_field("Height of the door", f"{page}.door", example_mm=2032, note=note))
    if kind == "length":
        note = "Measured between the two ends that you will mark."
        size_mm = length_field("Length", f"{page}.length", example_mm=1000, note=note)
        return None if size_mm is None else _Size(size_mm)
    if kind == "wheel":
        return _ask_tyre(page)
    return _Size()


def _ask_tyre(page: str) -> _Size | None:
    text = st.text_input(
        "Tyre size, from its sidewall",
        key=f"{FIELD}{page}.tyre",
        placeholder="for example 47-406",
        help="Two numbers with a hyphen, moulded into the rubber: width and rim in millimetres.",
    )
    if not text or not text.strip():
        return None
    try:
        reading = read_marking(text)
    except InputError as error:
        st.error(str(error), icon=":material/edit:")
        return None
    if not isinstance(reading, Tyre):
        st.error(f"{reading}. Look for the code with the hyphen.", icon=":material/edit:")
        return None
    st.caption(f"Outside diameter {both_units(reading.outside_diameter_mm)}")
    return _Size(reading.outside_diameter_mm, reading.width_mm)


def _ask_ruler(page: str) -> float | None:
    value: float | None = st.number_input(
        "The ruler on your printed sheet measures (mm)",
        min_value=153.0,
        max_value=207.0,
        value=None,
        step=0.5,
        key=f"{FIELD}{page}.ruler",
        placeholder=f"{RULER_MM:.0f} if printed true to scale",
        help="Lay a tape along the printed line. Printers often shrink a page by a few per cent."
        " Where the whole paper stands out from the wall, its edges tell it too.",
    )
    return value


def _ask_mount(page: str, kind: ReferenceKind) -> Placement:
    key = f"{FIELD}{page}.placement.{kind}"
    st.session_state.setdefault(key, "beside" if kind == "wheel" else "wall")
    placement: Placement = st.radio(
        "Where is it?", ("wall", "beside"), format_func=_MOUNT_WORDS.__getitem__, key=key
    )
    return placement
