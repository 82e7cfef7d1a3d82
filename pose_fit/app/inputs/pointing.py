"""Places in a picture, by clicking or by typing: the object's points, the child, and its marks."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Protocol

import numpy as np
import streamlit as st
from PIL import Image, ImageDraw

from pose_fit.app.session import Fields, Points, Shot, said_of
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.object_texts import POINTING
from pose_fit.photo.photo import Place

__all__ = ["Box", "MarkPlaces", "PointPlaces", "Spot", "edit_places", "points_of"]

#: Longer side of the picture that is clicked, pixels: sharp on a desk, quick to send.
_SHOWN_PX: Final = 1000
_DARK: Final = (0, 0, 0)
_CHOSEN: Final = (255, 255, 255)
_FIRST_WITHOUT_PLACE: Final = ""

#: Left, top, right, bottom in working pixels.
Box = tuple[int, int, int, int]
#: Draws one mark at (x, y) with this reach, ink and line width.
Marker = Callable[[ImageDraw.ImageDraw, float, float, float, tuple[int, int, int], int], None]


@dataclass(frozen=True, slots=True)
class Spot:
    """A place that somebody may point at.

    ``hint`` says where it is; ``seen`` is where the program saw it, if it did.
    """

    name: str
    label: str
    hint: str = ""
    seen: Place | None = None
    colour: tuple[int, int, int] = (0, 200, 255)
    marker: Marker | None = None


class Places(Protocol):
    """Places by the names of their spots."""

    def get(self, name: str) -> Place | None: ...
    def put(self, name: str, place: Place) -> None: ...
    def drop(self, name: str) -> None: ...


class MarkPlaces:
    """Places kept by name, each free of the others."""

    def __init__(self, places: dict[Any, Place]) -> None:
        self._places = places

    def get(self, name: str) -> Place | None:
        """Where it was put."""
        return self._places.get(name)

    def put(self, name: str, place: Place) -> None:
        """Put it there."""
        self._places[name] = place

    def drop(self, name: str) -> None:
        """Take it back."""
        self._places.pop(name, None)


class PointPlaces:
    """Points in their order, as the object of known size needs them; spots are numbered from 0."""

    def __init__(self, points: Points) -> None:
        self._points = points

    def get(self, name: str) -> Place | None:
        """Where it was put."""
        place = int(name)
        return self._points[place] if place < len(self._points) else None

    def put(self, name: str, place: Place) -> None:
        """Put it there; a later one comes next."""
        self._points[int(name) : int(name) + 1] = [place]

    def drop(self, name: str) -> None:
        """Take it back; later ones move up."""
        del self._points[int(name) : int(name) + 1]


def points_of(shot: Shot, name: str) -> Points:
    """The points marked so far, pixels of the upright picture."""
    return said_of(shot).points.setdefault(name, [])


def edit_places(
    shot: Shot, name: str, places: Places, spots: Sequence[Spot], *, box: Box | None = None
) -> None:
    """Let somebody point at each spot in turn, move it, and take it back.

    ``box`` is the part of the picture that is shown.
    """
    say = in_language(POINTING)
    fields = Fields(f"shot.{shot.key}.{name}")
    chosen = _choose(fields, places, spots)
    st.caption(chosen.hint or say.click.format(spot=chosen.label))
    _take_click(shot, fields, places, spots, chosen, box)
    _type_place(shot, fields, places, chosen)
    given = [spot for spot in spots if places.get(spot.name) is not None]
    with st.container(horizontal=True):
        if st.button(
            say.take_back,
            key=f"back_one.{shot.key}.{name}",
            disabled=places.get(chosen.name) is None,
        ):
            places.drop(chosen.name)
            _renew(fields, chosen.name)
        if st.button(say.take_all_back, key=f"back_all.{shot.key}.{name}", disabled=not given):
            for spot in reversed(given):
                places.drop(spot.name)
            _renew(fields, spots[0].name)


def _choose(fields: Fields, places: Places, spots: Sequence[Spot]) -> Spot:
    """The spot to point at: the first without a place, until another is chosen."""
    labels: Mapping[str, str] = {
        spot.name: f"{spot.label} ✓" if places.get(spot.name) is not None else spot.label
        for spot in spots
    }
    key = fields.key("spot")
    wanted = st.session_state.pop(f"next.{key}", None)
    if wanted == _FIRST_WITHOUT_PLACE:
        missing = [s.name for s in spots if s.seen is None and places.get(s.name) is None]
        wanted = missing[0] if missing else st.session_state.get(key)
    if wanted is not None or st.session_state.get(key) not in labels:
        st.session_state[key] = wanted if wanted in labels else spots[0].name
    if len(spots) == 1:
        return spots[0]
    name: str = st.radio(
        in_language(POINTING).which,
        tuple(labels),
        format_func=labels.__getitem__,
        key=key,
        horizontal=True,
    )
    return next(spot for spot in spots if spot.name == name)


def _take_click(
    shot: Shot,
    fields: Fields,
    places: Places,
    spots: Sequence[Spot],
    chosen: Spot,
    box: Box | None,
) -> None:
    from streamlit_image_coordinates import streamlit_image_coordinates

    height, width = shot.photo.pixels.shape[:2]
    left, top, right, bottom = box or (0, 0, width, height)
    click: dict[str, Any] | None = streamlit_image_coordinates(
        _with_marks(shot, places, spots, chosen, (left, top, right, bottom)),
        key=f"click.{fields.form}",
        width="stretch",
        image_format="JPEG",
        jpeg_quality=85,
        cursor="crosshair",
    )
    handled = f"clicked.{fields.form}"
    # The component repeats its last click in every run, so each is taken once, by its time.
    if not click or click["unix_time"] == st.session_state.get(handled):
        return
    st.session_state[handled] = click["unix_time"]
    working_px = np.array(
        [
            left + (click["x"] + 0.5) / click["width"] * (right - left) - 0.5,
            top + (click["y"] + 0.5) / click["height"] * (bottom - top) - 0.5,
        ]
    )
    x_px, y_px = shot.photo.upright_px(working_px)
    places.put(chosen.name, (round(float(x_px), 1), round(float(y_px), 1)))
    # What the program did not see itself is pointed at in turn.
    _renew(fields, _FIRST_WITHOUT_PLACE if chosen.seen is None else chosen.name)


def _type_place(shot: Shot, fields: Fields, places: Places, spot: Spot) -> None:
    """The same by keyboard: pixels from the top left corner."""
    place = places.get(spot.name) or spot.seen
    limits = shot.photo.width_px, shot.photo.height_px
    shown: list[float | None] = [None, None]
    if place is not None:
        shown = [
            round(min(max(value, 0.0), float(limit)), 1)
            for value, limit in zip(place, limits, strict=True)
        ]
    # A new key shows a new place.
    version = f"{spot.name}.{shown[0]}.{shown[1]}"
    with st.expander(in_language(POINTING).type_instead):
        typed = [
            column.number_input(
                f"{spot.label}: {axis} (0–{limit})",
                min_value=0.0,
                max_value=float(limit),
                value=value,
                step=1.0,
                format="%.1f",
                key=f"typed.{fields.form}.{version}.{axis}",
            )
            for column, axis, value, limit in zip(
                st.columns(2), ("x", "y"), shown, limits, strict=True
            )
        ]
    x_px, y_px = typed
    if x_px is None or y_px is None or typed == shown:
        return
    places.put(spot.name, (x_px, y_px))
    st.rerun()


def _renew(fields: Fields, next_spot: str) -> None:
    st.session_state[f"next.{fields.key('spot')}"] = next_spot
    st.rerun()


def _with_marks(
    shot: Shot, places: Places, spots: Sequence[Spot], chosen: Spot, box: Box
) -> Image.Image:
    left, top, right, bottom = box
    picture = Image.fromarray(shot.photo.pixels[top:bottom, left:right])
    factor = _SHOWN_PX / max(picture.size)
    picture = picture.resize((round(picture.width * factor), round(picture.height * factor)))
    draw = ImageDraw.Draw(picture)
    for spot in spots:
        place = places.get(spot.name) or spot.seen
        if place is None:
            continue
        working_px = shot.photo.working_px(np.array(place))
        x, y = ((working_px - np.array((left, top)) + 0.5) * factor).tolist()
        is_chosen = spot is chosen
        reach = 12 if is_chosen else 8
        for ink, width in (
            (_DARK, 5 if is_chosen else 4),
            (_CHOSEN if is_chosen else spot.colour, 2),
        ):
            (spot.marker or _cross)(draw, x, y, reach, ink, width)
    return picture


def _cross(
    draw: ImageDraw.ImageDraw,
    x: float,
    y: float,
    reach: float,
    ink: tuple[int, int, int],
    width: int,
) -> None:
    draw.line((x - reach, y, x + reach, y), fill=ink, width=width)
    draw.line((x, y - reach, x, y + reach), fill=ink, width=width)
