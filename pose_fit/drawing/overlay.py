"""The picture with its marks: each kind of mark has a colour and a shape of its own."""

import io
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from pose_fit.drawing.marks import Marks, picture_marks
from pose_fit.errors import OutputError
from pose_fit.files.whole_file import write_whole
from pose_fit.measure import PhotoMeasurement
from pose_fit.privacy.hide_faces import with_face_hidden

__all__ = ["overlay_format", "overlay_picture", "write_overlay"]

_FORMATS: Final = {".png": "PNG", ".jpg": "JPEG", ".jpeg": "JPEG", ".webp": "WEBP"}
_LEG: Final = (255, 196, 0)
_REFERENCE: Final = (0, 200, 255)
_FLOOR: Final = (60, 220, 120)
_CROTCH: Final = (255, 90, 160)


def overlay_picture(measurement: PhotoMeasurement) -> Image.Image:
    """The working picture, face hidden, with joints, reference, floor line and crotch band."""
    reference_px = measurement.sights.reference.image_px
    hidden = with_face_hidden(measurement.photo, measurement.sights.body, keep_px=reference_px)
    picture = Image.fromarray(hidden).convert("RGBA")
    marks = picture_marks(measurement)
    glass = Image.new("RGBA", picture.size, (0, 0, 0, 0))
    _draw(ImageDraw.Draw(glass), marks, max(2, round(max(picture.size) / 450)))
    return Image.alpha_composite(picture, glass).convert("RGB")


def write_overlay(measurement: PhotoMeasurement, path: str | Path) -> None:
    """Write the picture as PNG, JPEG or WebP by the file's ending.

    Raises
    ------
    OutputError
        The ending is unknown or the file cannot be written.
    """
    form = overlay_format(path)
    encoded = io.BytesIO()
    overlay_picture(measurement).save(encoded, form)
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


def _draw(draw: ImageDraw.ImageDraw, marks: Marks, stroke: int) -> None:
    band = [*_points(marks.band_low_px), *reversed(_points(marks.band_high_px))]
    draw.polygon(band, fill=(*_CROTCH, 90))
    draw.line(_points(marks.crotch_px), fill=(*_CROTCH, 255), width=stroke)
    draw.line(_points(marks.floor_px), fill=(*_FLOOR, 255), width=stroke)
    for leg_px in marks.legs_px:
        draw.line(_points(leg_px), fill=(*_LEG, 255), width=stroke)
        for x, y in _points(leg_px):
            draw.ellipse(
                (x - 2 * stroke, y - 2 * stroke, x + 2 * stroke, y + 2 * stroke), (*_LEG, 255)
            )
    for x, y in _points(marks.reference_px):
        reach = 3 * stroke
        draw.line((x - reach, y, x + reach, y), fill=(*_REFERENCE, 255), width=stroke)
        draw.line((x, y - reach, x, y + reach), fill=(*_REFERENCE, 255), width=stroke)
    if marks.seen_crotch_px is not None:
        x, y = (float(value) for value in marks.seen_crotch_px)
        reach = 3 * stroke
        draw.polygon(
            [(x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y)],
            outline=(*_CROTCH, 255),
            width=stroke,
        )


def _points(points_px: NDArray[np.float64]) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in points_px]
