"""Points marked on a picture, by clicking or by typing their coordinates."""

from collections.abc import Sequence
from typing import Any, Final

import streamlit as st
from PIL import Image, ImageDraw, ImageFont

from pose_fit.app.folds import fold
from pose_fit.app.session import Points, Shot, remembered

__all__ = ["mark_points", "points_of"]

#: Longer side of the picture that is clicked, pixels: sharp on a desk, quick to send.
_SHOWN_PX: Final = 1100
_MARK: Final = (0, 200, 255)


def points_of(shot: Shot, name: str) -> Points:
    """The points marked so far, pixels of the upright picture."""
    empty: Points = []
    return remembered(f"points.{shot.key}.{name}", lambda: empty)


def mark_points(shot: Shot, name: str, *, wanted: Sequence[str], more: str | None = None) -> Points:
    """Let the visitor mark the wanted points in their order; then ``more``, as many as they like."""
    points = points_of(shot, name)
    _say_next(points, wanted, more)
    _take_click(shot, name, points, room=more is not None or len(points) < len(wanted))
    left, right = st.columns(2)
    if left.button("Undo last point", key=f"undo.{shot.key}.{name}", disabled=not points):
        points.pop()
        _renew(shot, name)
    if right.button("Clear all points", key=f"clear.{shot.key}.{name}", disabled=not points):
        points.clear()
        _renew(shot, name)
    _type_points(shot, name, points, wanted, more)
    return points


def _say_next(points: Points, wanted: Sequence[str], more: str | None) -> None:
    place = len(points)
    if place < len(wanted):
        st.markdown(f"**Click point {place + 1} of {len(wanted)}: {wanted[place]}.**")
    elif more is not None:
        st.markdown(f"**{place} points. {more}**")
    else:
        st.markdown("**All points are marked.** Undo one to move it.")


def _take_click(shot: Shot, name: str, points: Points, *, room: bool) -> None:
    from streamlit_image_coordinates import streamlit_image_coordinates

    shown = _with_marks(shot, points)
    click: dict[str, Any] | None = streamlit_image_coordinates(
        shown,
        key=f"click.{shot.key}.{name}",
        width="stretch",
        image_format="JPEG",
        jpeg_quality=85,
        cursor="crosshair",
    )
    handled = f"clicked.{shot.key}.{name}"
    # The component repeats its last click in every run, so each is taken once, by its time.
    if not click or click["unix_time"] == st.session_state.get(handled):
        return
    st.session_state[handled] = click["unix_time"]
    if room:
        x_px = (click["x"] + 0.5) / click["width"] * shot.photo.width_px - 0.5
        y_px = (click["y"] + 0.5) / click["height"] * shot.photo.height_px - 0.5
        points.append((round(x_px, 1), round(y_px, 1)))
        _renew(shot, name)


def _type_points(
    shot: Shot, name: str, points: Points, wanted: Sequence[str], more: str | None
) -> None:
    with fold("Type the points instead", f"points.{shot.key}.{name}"):
        st.caption(
            f"Pixels from the top left corner of the picture, which is {shot.photo.width_px} wide"
            f" and {shot.photo.height_px} high."
        )
        version = st.session_state.setdefault(f"version.{shot.key}.{name}", 0)
        rows = max(len(wanted), len(points) + (more is not None))
        for row in range(rows):
            label = wanted[row] if row < len(wanted) else f"point {row + 1}"
            known = points[row] if row < len(points) else None
            found: list[float | None] = []
            for column, axis, limit in zip(
                st.columns(2),
                ("x", "y"),
                (shot.photo.width_px, shot.photo.height_px),
                strict=True,
            ):
                found.append(
                    column.number_input(
                        f"{label}: {axis}",
                        min_value=0.0,
                        max_value=float(limit),
                        value=None if known is None else known[axis == "y"],
                        step=1.0,
                        format="%.1f",
                        key=f"typed.{shot.key}.{name}.{version}.{row}.{axis}",
                        disabled=row > len(points),
                    )
                )
            x_px, y_px = found
            if x_px is None or y_px is None or (x_px, y_px) == known:
                continue
            points[row : row + 1] = [(x_px, y_px)]
            st.rerun()


def _renew(shot: Shot, name: str) -> None:
    """Show the fields with the new points."""
    st.session_state[f"version.{shot.key}.{name}"] = (
        st.session_state.get(f"version.{shot.key}.{name}", 0) + 1
    )
    st.rerun()


def _with_marks(shot: Shot, points: Points) -> Image.Image:
    picture = Image.fromarray(shot.photo.pixels)
    picture.thumbnail((_SHOWN_PX, _SHOWN_PX))
    draw = ImageDraw.Draw(picture)
    factor = picture.width / shot.photo.width_px
    reach = max(picture.size) / 70
    font = ImageFont.load_default(size=reach * 1.6)
    for number, (x_px, y_px) in enumerate(points, start=1):
        x, y = (x_px + 0.5) * factor, (y_px + 0.5) * factor
        for colour, width in (((0, 0, 0), 5), (_MARK, 2)):
            draw.line((x - reach, y, x + reach, y), fill=colour, width=width)
            draw.line((x, y - reach, x, y + reach), fill=colour, width=width)
        place = (min(x + reach * 0.4, picture.width - 2 * reach), max(y - 2.2 * reach, 0))
        draw.text(place, str(number), _MARK, font=font, stroke_width=2, stroke_fill=(0, 0, 0))
    return picture
