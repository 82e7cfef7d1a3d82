"""The picture with its marks: each kind of mark has a colour and a shape of its own."""

import io
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from pose_fit.body.body import Body
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.drawing.legend import Colour, Entry, draw_legend, lettering
from pose_fit.drawing.marks import SCALE_MM, FoundMarks, Marks, found_marks, picture_marks
from pose_fit.errors import OutputError
from pose_fit.files.whole_file import write_whole
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.metrology.units import Unit, both_units, length_text
from pose_fit.photo.photo import Photo
from pose_fit.privacy.faces import Face
from pose_fit.privacy.hide_faces import with_face_hidden
from pose_fit.reference.reference import Reference
from pose_fit.scene import PhotoRefusal

__all__ = ["overlay_format", "overlay_picture", "refused_picture", "write_picture"]

_FORMATS: Final = {".png": "PNG", ".jpg": "JPEG", ".jpeg": "JPEG", ".webp": "WEBP"}
_LEG: Final = (255, 196, 0)
_REFERENCE: Final = (0, 170, 225)
_FLOOR: Final = (30, 180, 90)
_CROTCH: Final = (235, 60, 140)
_PERSON: Final = (255, 255, 255)
_DARK: Final = (23, 37, 43)
#: A hidden point of the reference counts for so many of the net over the person.
_REFERENCE_COUNTS: Final = 20


def overlay_picture(
    measurement: PhotoMeasurement,
    *,
    unit: Unit = "in",
    texts: DrawingTexts = ENGLISH,
    faces: Sequence[Face] | None = None,
) -> Image.Image:
    """The working picture, faces hidden, with what was found, the measured lines and a legend.

    ``faces`` as for :func:`pose_fit.privacy.hide_faces.with_face_hidden`.
    """
    marks = picture_marks(measurement)
    sights = measurement.sights
    picture, glass, draw = _glass(measurement.photo, sights.body, sights.reference, faces)
    stroke = _stroke(picture)
    _draw_lines(draw, marks, stroke)
    _draw_found(draw, marks.found, stroke)
    value = length_text(measurement.inseam.mean_mm, unit)
    _draw_arrow(draw, marks.arrow_px, value, picture.size, stroke)
    entries = _entries(marks, measurement.inseam, unit, texts)
    lines_px = [marks.arrow_px, marks.floor_px, marks.crotch_px]
    busy_px = np.concatenate([_busy(marks.found), *lines_px])
    draw_legend(draw, picture.size, entries, busy_px)
    return Image.alpha_composite(picture, glass).convert("RGB")


def refused_picture(
    photo: Photo,
    refusal: PhotoRefusal,
    *,
    texts: DrawingTexts = ENGLISH,
    faces: Sequence[Face] | None = None,
) -> Image.Image | None:
    """The working picture of a refused photo, faces hidden, with what was found and a legend.

    None where nobody was found, so that no face could be hidden.
    """
    body, reference = refusal.body, refusal.reference
    if body is None:
        return None
    found = found_marks(photo, body, reference)
    picture, glass, draw = _glass(photo, body, reference, faces)
    _draw_found(draw, found, _stroke(picture), box=True)
    entries = [Entry("text", _DARK, texts.not_measured), *_found_entries(found, texts)]
    if refusal.has_no_object:
        entries.append(Entry("text", _DARK, texts.no_object))
    draw_legend(draw, picture.size, entries, _busy(found))
    return Image.alpha_composite(picture, glass).convert("RGB")


def write_picture(picture: Image.Image, path: str | Path) -> None:
    """Write a picture as PNG, JPEG or WebP by the file's ending.

    Raises
    ------
    OutputError
        The ending is unknown or the file cannot be written.
    """
    form = overlay_format(path)
    encoded = io.BytesIO()
    picture.save(encoded, form)
    write_whole(path, encoded.getvalue())


def overlay_format(path: str | Path) -> str:
    """The kind of picture that a file's ending asks for.

    Raises
    ------
    OutputError
        None that is written here.
    """
    ending = Path(path).suffix.lower()
    if ending not in _FORMATS:
        raise OutputError(
            f"{path}: wanted a picture's ending {', '.join(_FORMATS)}, found {ending or 'none'!r}"
        )
    return _FORMATS[ending]


def _glass(
    photo: Photo,
    body: Body,
    reference: Reference | None,
    faces: Sequence[Face] | None,
) -> tuple[Image.Image, Image.Image, ImageDraw.ImageDraw]:
    """The picture, a clear sheet over it, and a pen for the sheet."""
    keep_px = None if reference is None else reference.image_px
    hidden = with_face_hidden(photo, body, keep_px=keep_px, faces=faces)
    picture = Image.fromarray(hidden).convert("RGBA")
    glass = Image.new("RGBA", picture.size, (0, 0, 0, 0))
    return picture, glass, ImageDraw.Draw(glass)


def _stroke(picture: Image.Image) -> int:
    return max(2, round(max(picture.size) / 330))


def _entries(marks: Marks, inseam: Inseam, unit: Unit, texts: DrawingTexts) -> list[Entry]:
    low, high = (length_text(end_mm, unit) for end_mm in inseam.interval95_mm)
    seen = Entry("diamond", _CROTCH, texts.legs_part)
    return [
        Entry("text", _DARK, texts.inseam.format(length=both_units(inseam.mean_mm, unit))),
        Entry("band", _CROTCH, texts.crotch.format(low=low, high=high)),
        Entry("line", _FLOOR, texts.floor),
        *([] if marks.seen_crotch_px is None else [seen]),
        *_found_entries(marks.found, texts, box=False),
        Entry("scale", _DARK, length_text(SCALE_MM, unit), marks.scale_px),
    ]


def _found_entries(found: FoundMarks, texts: DrawingTexts, *, box: bool = True) -> list[Entry]:
    entries = []
    if box and found.person_px is not None:
        entries.append(Entry("box", _DARK, texts.person))
    entries.append(Entry("joints", _LEG, texts.joints))
    if found.reference_px is not None:
        entries.append(Entry("cross", _REFERENCE, texts.known_object))
    return entries


def _busy(found: FoundMarks) -> NDArray[np.float64]:
    """(N, 2) points that the legend should not hide: joints, a net over the person, reference."""
    busy = [found.legs_px.reshape(-1, 2)]
    if found.reference_px is not None:
        busy += [found.reference_px] * _REFERENCE_COUNTS
    if found.person_px is not None:
        low, high = found.person_px
        columns, rows = (np.linspace(low[axis], high[axis], 12) for axis in (0, 1))
        busy.append(np.stack(np.meshgrid(columns, rows), axis=-1).reshape(-1, 2))
    return np.concatenate(busy)


def _line(
    draw: ImageDraw.ImageDraw, points: list[tuple[float, float]], colour: Colour, stroke: int
) -> None:
    """A line with a dark edge, to be seen on any ground."""
    draw.line(points, fill=(*_DARK, 150), width=stroke + 2)
    draw.line(points, fill=(*colour, 255), width=stroke)


def _draw_lines(draw: ImageDraw.ImageDraw, marks: Marks, stroke: int) -> None:
    band = [*_points(marks.band_low_px), *reversed(_points(marks.band_high_px))]
    draw.polygon(band, fill=(*_CROTCH, 90))
    _line(draw, _points(marks.crotch_px), _CROTCH, stroke)
    _line(draw, _points(marks.floor_px), _FLOOR, stroke)
    if marks.seen_crotch_px is not None:
        x, y = (float(value) for value in marks.seen_crotch_px)
        reach = 3 * stroke
        draw.polygon(
            [(x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y)],
            outline=(*_CROTCH, 255),
            width=stroke,
        )


def _draw_found(
    draw: ImageDraw.ImageDraw, found: FoundMarks, stroke: int, *, box: bool = False
) -> None:
    if box and found.person_px is not None:
        (left, top), (right, low) = _points(found.person_px)
        _line(
            draw,
            [(left, top), (right, top), (right, low), (left, low), (left, top)],
            _PERSON,
            stroke,
        )
    for leg_px in found.legs_px:
        _line(draw, _points(leg_px), _LEG, stroke)
        for x, y in _points(leg_px):
            reach = 2 * stroke
            draw.ellipse((x - reach, y - reach, x + reach, y + reach), (*_LEG, 255))
    if found.reference_px is not None:
        reach = 3 * stroke
        for x, y in _points(found.reference_px):
            _line(draw, [(x - reach, y), (x + reach, y)], _REFERENCE, stroke)
            _line(draw, [(x, y - reach), (x, y + reach)], _REFERENCE, stroke)


def _draw_arrow(
    draw: ImageDraw.ImageDraw,
    arrow_px: NDArray[np.float64],
    words: str,
    size_px: tuple[int, int],
    stroke: int,
) -> None:
    """From the floor to the crotch, with the value on it."""
    (x, floor), (tip_x, tip) = _points(arrow_px)
    _line(draw, [(x, floor), (tip_x, tip)], _PERSON, stroke)
    reach = 4 * stroke
    for at_x, at_y, way in ((x, floor, -1), (tip_x, tip, 1)):
        head = [(at_x - reach, at_y + way * 1.6 * reach), (at_x, at_y)]
        _line(draw, [*head, (at_x + reach, at_y + way * 1.6 * reach)], _PERSON, stroke)
    face = lettering(size_px)
    middle = ((x + tip_x) / 2, (floor + tip) / 2)
    half = draw.textlength(words, font=face) / 2 + 3 * stroke
    tall = face.getbbox("Ag")[3] * 0.75
    box = (middle[0] - half, middle[1] - tall, middle[0] + half, middle[1] + tall)
    draw.rounded_rectangle(box, tall * 0.4, fill=(255, 255, 255, 224))
    draw.text(middle, words, fill=(*_DARK, 255), font=face, anchor="mm")


def _points(points_px: NDArray[np.float64]) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in points_px]
