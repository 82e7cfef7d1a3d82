"""The object of known size: which it is, how large, where, and its points in each picture."""

from collections.abc import Sequence
from typing import Final, Literal

import streamlit as st

from pose_fit.app.inputs.lengths import USUAL_DOOR_MM, length_field, length_of, length_text
from pose_fit.app.inputs.pointing import PointPlaces, Spot, edit_places, points_of
from pose_fit.app.known_object import FOUND_BY_ITSELF, LEAST_POINTS, ObjectOfKnownSize
from pose_fit.app.session import Fields, Points, Shot
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.object_texts import OBJECT, ObjectTexts
from pose_fit.app.views.object_drawings import draw_on_choices
from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.errors import InputError
from pose_fit.reference.printed_sheet import RULER_MM
from pose_fit.reference.reference import Placement, ReferenceKind

__all__ = [
    "ask_object",
    "ask_points",
    "ask_ruler",
    "ask_tyre",
    "asks_tyre_alone",
    "can_be_marked",
    "forget_object",
    "has_no_object",
    "least_points",
    "mark_object",
    "marked_points",
    "object_of",
    "offer_ruler",
    "points_on",
    "suggest_object",
]

#: Chosen where nothing of known size is in the picture.
_NOTHING: Final = "nothing"


def object_of(page: str) -> ObjectOfKnownSize | None:
    """The object as described so far; None to have it looked for."""
    fields = Fields(f"{page}.object")
    chosen: ReferenceKind | Literal["nothing"] | None = fields.value("kind", None)
    if chosen is None:
        # Looked for; a ruler that was measured tells of the sheet, if it is one.
        ruler_mm = fields.value("ruler", None)
        return None if ruler_mm is None else ObjectOfKnownSize("auto", ruler_mm=ruler_mm)
    if chosen == "nothing":
        return None
    kind = chosen
    size_mm = tyre_width_mm = ruler_mm = None
    if kind == "wheel":
        tyre = _tyre(fields.value("tyre", ""))
        if tyre is None:
            return None
        size_mm, tyre_width_mm = tyre.outside_diameter_mm, tyre.width_mm
    elif kind in ("door", "length"):
        size_mm = length_of(f"{page}.object.{kind}")
        if kind == "length" and size_mm is None:
            return None
    elif kind == "sheet":
        ruler_mm = fields.value("ruler", None)
    return ObjectOfKnownSize(
        kind,
        size_mm,
        tyre_width_mm,
        fields.value(f"placement.{kind}", None),
        ruler_mm,
        kind not in FOUND_BY_ITSELF or fields.value("by_hand", False),
    )


def has_no_object(page: str) -> bool:
    """Whether the visitor says that nothing of known size is in the picture."""
    return Fields(f"{page}.object").value("kind", None) == _NOTHING


def forget_object(page: str) -> None:
    """Empty the form: another picture may show another object."""
    Fields(f"{page}.object").forget()


def suggest_object(page: str, kind: ReferenceKind) -> None:
    """Choose a kind for the visitor, who has not chosen yet."""
    st.session_state.setdefault(Fields(f"{page}.object").key("kind"), kind)


def ask_tyre(page: str) -> None:
    """The one thing that is not known of a wheel that was found; another object is one press away."""
    say, fields = in_language(OBJECT), Fields(f"{page}.object")
    _ask_tyre(fields, say)
    if st.toggle(say.not_a_wheel, key=fields.key("other")):
        fields.fill("kind", None)
        st.rerun()


def asks_tyre_alone(page: str) -> bool:
    """Whether nobody has said that it is something else than the wheel that was found."""
    fields = Fields(f"{page}.object")
    return fields.value("kind", None) == "wheel" and not fields.value("other", False)


def ask_object(page: str) -> None:
    """Kind, size and place of the object, with drawings."""
    say, fields = in_language(OBJECT), Fields(f"{page}.object")
    words: dict[str, str] = dict(say.kinds) | {_NOTHING: say.nothing}
    draw_on_choices(f"{page}_kinds", tuple(words))
    with st.container(key=f"{page}_kinds"):
        kind = st.pills(
            say.question, tuple(words), format_func=words.__getitem__, key=fields.key("kind")
        )
    match kind:
        case "wheel":
            _ask_tyre(fields, say)
        case "door":
            length_field(
                say.door,
                f"{page}.object.door",
                example_mm=2032,
                note=say.door_note,
                usual_mm=USUAL_DOOR_MM,
            )
        case "length":
            length_field(say.length, f"{page}.object.length", example_mm=1000, note=say.length_note)
        case "sheet":
            ask_ruler(page)
        case "nothing":
            st.caption(say.stature_note)
    if kind in ("letter", "a4", "wheel"):
        st.toggle(say.by_hand, key=fields.key("by_hand"), help=say.by_hand_help)
    if kind is not None and kind != _NOTHING:
        usual: Placement = "beside" if kind == "wheel" else "wall"
        st.session_state.setdefault(fields.key(f"placement.{kind}"), usual)
        st.radio(
            say.placement,
            ("wall", "beside"),
            format_func=say.placements.__getitem__,
            key=fields.key(f"placement.{kind}"),
        )


def offer_ruler(page: str) -> None:
    """One press, then the field for what the ruler on the printed sheet measures."""
    fields = Fields(f"{page}.object")
    if fields.value("ruler_wanted", False):
        ask_ruler(page)
    else:
        st.button(in_language(OBJECT).ruler_ask, on_click=fields.fill, args=("ruler_wanted", True))


def ask_ruler(page: str) -> None:
    """What the ruler on the printed sheet measures."""
    say, fields = in_language(OBJECT), Fields(f"{page}.object")
    st.number_input(
        say.ruler,
        min_value=153.0,
        max_value=207.0,
        value=None,
        step=0.5,
        key=fields.key("ruler"),
        placeholder=say.ruler_default.format(ruler=f"{RULER_MM:.0f}"),
        help=say.ruler_help,
    )


def ask_points(shots: Sequence[Shot], known: ObjectOfKnownSize | None) -> None:
    """Let the visitor mark the object in each picture, where it is not found by itself."""
    if known is None or not known.by_hand:
        return
    say = in_language(OBJECT)
    for shot in shots:
        with st.container(border=True):
            st.markdown(f"**{say.mark_it.format(name=shot.name)}**".replace("_", "\\_"))
            mark_object(shot, known.kind)


def marked_points(shot: Shot, known: ObjectOfKnownSize) -> Points | None:
    """The points marked so far, without asking for them."""
    return points_on(shot, known.kind) if known.by_hand else None


def can_be_marked(kind: ReferenceKind) -> bool:
    """The printed sheet has no points for a hand: its own marks are found or it is not there."""
    return kind in LEAST_POINTS


def least_points(kind: ReferenceKind) -> int:
    """How many points mark such an object."""
    return LEAST_POINTS[kind]


def mark_object(shot: Shot, kind: ReferenceKind) -> None:
    """Let somebody mark the object in one picture."""
    points = points_on(shot, kind)
    labels = _labels(kind, len(points), in_language(OBJECT))
    shown = labels[: len(points) + 1]
    spots = [Spot(str(number), label) for number, label in enumerate(shown)]
    edit_places(shot, f"reference.{kind}", PointPlaces(points), spots)


def points_on(shot: Shot, kind: ReferenceKind) -> Points:
    """The points marked so far on the object in one picture."""
    return points_of(shot, f"reference.{kind}")


def _labels(kind: ReferenceKind, marked: int, say: ObjectTexts) -> Sequence[str]:
    """What to point at, in its order; a tyre takes as many places as somebody likes."""
    match kind:
        case "wheel":
            wanted = [say.tyre_place.format(number=number) for number in range(1, 6)]
            return [*wanted, *(say.tyre_place.format(number=n) for n in range(6, marked + 2))]
        case "length":
            return say.ends
    return say.corners


def _tyre(text: str) -> Tyre | None:
    """The tyre of this marking; None where it is none, or an ambiguous name."""
    try:
        reading = read_marking(text) if text.strip() else None
    except InputError:
        return None
    return reading if isinstance(reading, Tyre) else None


def _ask_tyre(fields: Fields, say: ObjectTexts) -> None:
    text = st.text_input(
        say.tyre, key=fields.key("tyre"), placeholder=say.tyre_example, help=say.tyre_help
    )
    tyre = _tyre(text or "")
    if tyre is not None:
        length = length_text(tyre.outside_diameter_mm)
        st.caption(say.tyre_diameter.format(length=length))
    elif text and text.strip():
        st.error(say.tyre_unread, icon=":material/edit:")
