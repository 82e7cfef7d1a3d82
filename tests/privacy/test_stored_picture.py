"""What a case book keeps of a picture: no metadata, no thumbnail, and no face for a detector."""

import io
import warnings
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from pose_fit.body.body import Body
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.kept_picture import Picture, jpeg_of
from pose_fit.inseam.inseam import Inseam
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.privacy.hide_faces import with_face_hidden
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from tests import samples

#: Of OpenCV's frontal and profile cascades, those that find the most faces in the samples.
CASCADES = ("frontalface_default", "frontalface_alt2", "profileface")
Pixels = NDArray[np.uint8]


@cache
def mediapipe_detectors() -> list:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import mediapipe as mp

        # The model for faces within 2 m, and the one for faces within 5 m.
        return [
            mp.solutions.face_detection.FaceDetection(
                model_selection=reach, min_detection_confidence=0.4
            )
            for reach in (0, 1)
        ]


@cache
def cascades() -> list[cv2.CascadeClassifier]:
    folder = cv2.data.haarcascades
    return [cv2.CascadeClassifier(f"{folder}haarcascade_{name}.xml") for name in CASCADES]


Box = tuple[str, float, float, float, float]


def mediapipe_boxes(pixels: Pixels) -> Iterator[Box]:
    """Everything that MediaPipe calls a face: whose word it is, left, top, width and height."""
    height, width = pixels.shape[:2]
    for detector in mediapipe_detectors():
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            found = detector.process(np.ascontiguousarray(pixels)).detections or []
        for face in found:
            box = face.location_data.relative_bounding_box
            yield (
                "mediapipe",
                *(box.xmin * width, box.ymin * height, box.width * width, box.height * height),
            )


def cascade_boxes(pixels: Pixels) -> Iterator[Box]:
    """The same of OpenCV's cascades."""
    grey = cv2.cvtColor(pixels, cv2.COLOR_RGB2GRAY)
    for cascade in cascades():
        for box in cascade.detectMultiScale(grey, 1.1, 5):
            yield ("cascade", *map(float, box))


def finders(pixels: Pixels, photo: Photo, body: Body) -> set[str]:
    """Who finds a face where the child's is.

    MediaPipe looks at the picture and at the part around the face, which it sees enlarged. A cascade
    looks at every place and size alone, so that the part is enough.
    """
    x_px, y_px = photo.working_px(body.point_px("nose"))
    found = set()
    reach = round(body.leg_px / photo.working_scale * 0.6)
    left, top = max(round(x_px) - reach, 0), max(round(y_px) - reach, 0)
    near = pixels[top : round(y_px) + reach, left : round(x_px) + reach]
    for boxes, (part_left, part_top) in (
        (mediapipe_boxes(pixels), (0, 0)),
        (mediapipe_boxes(near), (left, top)),
        (cascade_boxes(near), (left, top)),
    ):
        for who, x, y, width, height in boxes:
            inside_x = 0 <= x_px - part_left - x <= width
            if inside_x and 0 <= y_px - part_top - y <= height:
                found.add(who)
    return found


def stored(photo: Photo, body: Body) -> Pixels:
    jpeg = jpeg_of(with_face_hidden(photo, body))
    return np.asarray(Image.open(io.BytesIO(jpeg)))


def test_both_kinds_of_detector_find_most_faces_before_they_are_hidden() -> None:
    seen = [(samples.photo(name), samples.body(name)) for name in samples.NAMES]
    found = [finders(photo.pixels, photo, body) for photo, body in seen]
    for who in ("mediapipe", "cascade"):
        assert sum(who in each for each in found) >= 0.8 * len(seen)


@pytest.mark.parametrize("name", samples.NAMES)
def test_no_detector_finds_the_face_in_the_stored_picture(name: str) -> None:
    photo, body = samples.photo(name), samples.body(name)
    assert finders(stored(photo, body), photo, body) == set()


def phones_file(path: Path) -> bytes:
    """The sample as a phone writes it: with place, maker and a thumbnail that shows the face."""
    with Image.open(path) as image:
        thumbnail = io.BytesIO()
        small = image.copy()
        small.thumbnail((160, 160))
        small.save(thumbnail, "JPEG")
        exif = image.getexif()
        exif[0x010F] = "SECRETMAKER"
        exif.get_ifd(0x8825)[1] = "N"
        exif.get_ifd(0x8769)[0x927C] = b"SECRETNOTE" + thumbnail.getvalue()
        file = io.BytesIO()
        image.save(file, "JPEG", exif=exif, comment=b"SECRETREMARK")
    return file.getvalue()


def test_the_kept_picture_of_a_phones_file_has_no_metadata_and_no_thumbnail(
    tmp_path: Path,
) -> None:
    original = phones_file(samples.SAMPLES / "sheet_1.jpg")
    assert original.count(b"SECRET") == 3
    # A JPEG within the JPEG: inside picture data no start of a picture can occur.
    assert original.count(b"\xff\xd8\xff") == 2
    file = tmp_path / "phone.jpg"
    file.write_bytes(original)
    photo = read_photo(file)
    body = pose_model().find(photo)
    assert body is not None
    with CaseBook(tmp_path / "book.db") as book:
        estimate = Inseam.stated(560.0, 9.0)
        record = PhotoRecord(
            width_px=photo.width_px,
            height_px=photo.height_px,
            task=PhotoTask(ReferenceRequest(kind="sheet")),
            result=estimate,
        )
        content = CaseContent(estimate=estimate, photos=(record,))
        kept = [Picture(with_face_hidden(photo, body), body)]
        case = book.receive(content, by="family", pictures=kept)
        jpeg = book.picture(case.case_id)
    assert jpeg is not None
    assert jpeg.count(b"\xff\xd8\xff") == 1
    assert b"SECRET" not in jpeg
    assert b"Exif" not in jpeg
    with Image.open(io.BytesIO(jpeg)) as kept:
        assert not kept.getexif()
