"""Of several people no picture is kept, on any way through the program; what a parent sees hides them.

Others who were not asked may be seen as bodies, or by a face alone, in a picture that is measured
or refused.
"""

import base64
import csv
import io
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from typer.testing import CliRunner, Result

from pose_fit.app.worker_jobs import Drawn, Looked, draw
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.cli.main import EXIT_REFUSED, app
from pose_fit.drawing.drawing_texts import ENGLISH
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.privacy.faces import Face, FaceDetector, find_faces
from pose_fit.privacy.hide_faces import picture_of_one
from pose_fit.privacy.mediapipe_faces import mediapipe_faces
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests import samples

PICTURES = Path(__file__).parents[1] / "doubtful" / "pictures"
TWO = PICTURES / "two_1.jpg"
SHEET = samples.SAMPLES / "sheet_1.jpg"
Pixels = NDArray[np.uint8]


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def with_spectator(photo: Photo, *, without_child: bool = False) -> tuple[Pixels, Face]:
    """The sample with the child's head once more, small, at the left; and where that face is."""
    body = pose_model().find(photo)
    assert body is not None
    x_px, y_px = (round(float(value)) for value in photo.working_px(body.point_px("nose")))
    half_px = round(0.22 * body.leg_px / photo.working_scale)
    head = photo.pixels[y_px - half_px : y_px + half_px, x_px - half_px : x_px + half_px]
    pixels = np.full_like(photo.pixels, 170) if without_child else photo.pixels.copy()
    top, left = pixels.shape[0] // 20, pixels.shape[1] // 20
    pixels[top : top + 2 * half_px, left : left + 2 * half_px] = head
    return pixels, Face((left + float(half_px), top + float(half_px)), float(half_px), 1.0)


def detectors() -> tuple[FaceDetector, ...]:
    return mediapipe_faces("short"), mediapipe_faces("full")


def shows(pixels: Pixels, wanted: Face) -> bool:
    return any(
        np.hypot(*np.subtract(face.centre_px, wanted.centre_px)) < wanted.width_px
        for face in find_faces(pixels, detectors())
    )


def saved(pixels: Pixels, path: Path) -> Path:
    Image.fromarray(pixels).save(path, quality=95)
    return path


def test_only_the_picture_of_a_child_alone_may_be_kept():
    alone = read_photo(SHEET)
    spectator = replace(alone, pixels=with_spectator(alone)[0])
    for photo, kept in ((alone, True), (spectator, False), (read_photo(TWO), False)):
        body = pose_model().find(photo)
        assert body is not None
        assert (picture_of_one(photo, body) is not None) == kept


@pytest.mark.parametrize(
    "words", [(), ("--person", "331,471"), ("--person", "331,471", "--heels-down")]
)
def test_the_terminal_writes_no_marked_picture_of_several(tmp_path, words):
    """Refused for several people, for another reason, or measured where somebody pointed."""
    marks = tmp_path / "marks.png"
    told = run("measure", TWO, "--reference", "sheet", *words, "--overlay", marks)
    assert "marks.png was not written: more than one person is in the picture" in told.stderr
    assert list(tmp_path.iterdir()) == []


def test_the_terminal_writes_no_marked_picture_where_a_face_alone_tells_of_somebody(tmp_path):
    pixels, face = with_spectator(read_photo(SHEET))
    assert shows(pixels, face)
    file = saved(pixels, tmp_path / "spectator.png")
    told = run("measure", file, "--reference", "sheet", "--overlay", tmp_path / "marks.png")
    assert "more than one person is in the picture" in told.stderr
    assert list(tmp_path.iterdir()) == [file]


def test_the_terminal_still_marks_a_child_alone_measured_or_refused(tmp_path):
    for name, words in (("measured", ("--heels-down",)), ("refused", ())):
        marks = tmp_path / f"{name}.png"
        told = run("measure", SHEET, "--reference", "sheet", *words, "--overlay", marks)
        assert (told.exit_code == EXIT_REFUSED) == (name == "refused"), told.output
        assert marks.exists()


def test_a_table_of_many_photos_keeps_no_picture(tmp_path):
    """Whatever is written beside the photos is text."""
    folder, out = tmp_path / "photos", tmp_path / "out"
    folder.mkdir()
    out.mkdir()
    (folder / TWO.name).write_bytes(TWO.read_bytes())
    saved(with_spectator(read_photo(SHEET))[0], folder / "spectator.png")
    run("batch", folder, "--reference", "sheet", "--out", out / "table.csv", "--workers", "1")
    assert {file.name for file in folder.iterdir()} == {TWO.name, "spectator.png"}
    with (out / "table.csv").open(encoding="utf-8-sig", newline="") as table:
        assert {row["photo"] for row in csv.DictReader(table)} == {TWO.name, "spectator.png"}
    for file in out.iterdir():
        assert not {b"\xff\xd8\xff", b"\x89PNG", b"WEBP"} & {
            mark for mark in (b"\xff\xd8\xff", b"\x89PNG", b"WEBP") if mark in file.read_bytes()
        }


def pixels_of(drawn: Drawn) -> Pixels:
    match = re.match("data:image/jpeg;base64,(.+)", drawn.source)
    assert match is not None
    return np.asarray(Image.open(io.BytesIO(base64.b64decode(match.group(1)))).convert("RGB"))


@pytest.mark.parametrize("asked", ["measured", "refused", "nobody", "wrong question"])
def test_what_a_parent_sees_hides_the_spectator_too(asked):
    plain = read_photo(SHEET)
    pixels, face = with_spectator(plain, without_child=asked == "nobody")
    photo = replace(plain, pixels=pixels)
    stated = Stated(heels_down=True if asked == "measured" else None)
    task = PhotoTask(ReferenceRequest(kind="sheet"), stated)
    result = None if asked == "wrong question" else measure_photo(photo, task)
    assert isinstance(result, Refusal) == (asked in ("refused", "nobody"))
    looked = Looked(photo, None if asked == "nobody" else pose_model().find(photo), True)
    shown = pixels_of(draw(looked, result, "in", ENGLISH))
    shrink = max(shown.shape[:2]) / max(pixels.shape[:2])
    there = Face(
        (face.centre_px[0] * shrink, face.centre_px[1] * shrink), face.width_px * shrink, 1.0
    )
    assert shows(pixels, face)
    assert not shows(shown, there)
