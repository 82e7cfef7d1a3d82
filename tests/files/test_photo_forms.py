"""One photo in every form a family may send: measured like the original, or refused in words."""

import io
import json
import struct
from pathlib import Path

import numpy as np
import pillow_heif
import pytest
from PIL import Image
from typer.testing import CliRunner

from pose_fit.cli.main import EXIT_WRONG_CALL, app

from .commands import SAMPLE, SAMPLE_WORDS, TRUE_MM, pose_fit

pillow_heif.register_heif_opener()
ORIENTATION, EXIF_IFD, FOCAL_35MM = 0x0112, 0x8769, 0xA405


def original() -> Image.Image:
    with Image.open(SAMPLE) as image:
        image.load()
        return image


def exif(orientation: int = 1, focal: object = 26) -> Image.Exif:
    tags = Image.Exif()
    tags[ORIENTATION] = orientation
    tags.get_ifd(EXIF_IFD)[FOCAL_35MM] = focal
    return tags


def encoded(image: Image.Image, form: str, **options: object) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, form, **options)
    return buffer.getvalue()


def measured(path: Path) -> dict:
    """What ``pose-fit measure --json`` tells."""
    result = CliRunner().invoke(
        app, ["measure", str(path), *SAMPLE_WORDS, "--json"], catch_exceptions=False
    )
    assert result.exit_code == 0, result.output + result.stderr
    return json.loads(result.stdout)


@pytest.fixture(scope="module")
def as_sent() -> dict:
    return measured(SAMPLE)


def cmyk() -> bytes:
    return encoded(original().convert("CMYK"), "JPEG", quality=95, exif=exif())


def grey_16_bit() -> bytes:
    grey = np.asarray(original().convert("L")).astype(np.uint16) * 257
    return encoded(Image.fromarray(grey), "PNG", exif=exif())


def palette() -> bytes:
    return encoded(original().quantize(256), "PNG", exif=exif())


def transparent() -> bytes:
    """Clear at the rim, where nothing is measured."""
    image = original().convert("RGBA")
    glass = np.full(image.size[::-1], 255, np.uint8)
    glass[:10] = 0
    image.putalpha(Image.fromarray(glass))
    return encoded(image, "PNG", exif=exif())


def animated() -> bytes:
    later = Image.new("RGB", original().size, "black")
    return encoded(original(), "WEBP", save_all=True, append_images=[later], quality=95, exif=exif())  # fmt: skip


def mpo() -> bytes:
    small = original().resize((300, 400))
    return encoded(original(), "MPO", save_all=True, append_images=[small], quality=95, exif=exif())


def heic() -> bytes:
    return encoded(original(), "HEIF", quality=92, exif=exif())


def heic_with_depth() -> bytes:
    """A phone's portrait: the auxiliary picture is named depth (ISO/IEC 23008-12, auxid 2)."""
    image = original().convert("RGBA")
    image.putalpha(Image.linear_gradient("L").resize(image.size))
    content = encoded(image, "HEIF", quality=92, exif=exif())
    alpha, depth = b"urn:mpeg:hevc:2015:auxid:1", b"urn:mpeg:hevc:2015:auxid:2"
    assert content.count(alpha) == 1
    content = content.replace(alpha, depth)
    with Image.open(io.BytesIO(content)) as opened:
        assert opened.mode == "RGB"
        assert len(opened.info["depth_images"]) == 1
    return content


def on_its_side() -> bytes:
    turned = original().transpose(Image.Transpose.ROTATE_90)
    return encoded(turned, "JPEG", quality=95, exif=exif(orientation=6))


def wrong_extension() -> bytes:
    return encoded(original(), "PNG", exif=exif())


FORMS = [
    cmyk,
    grey_16_bit,
    palette,
    transparent,
    animated,
    mpo,
    heic,
    heic_with_depth,
    on_its_side,
    wrong_extension,
]


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.__name__)
def test_every_form_gives_the_originals_inseam(tmp_path, as_sent, form):
    # The extension lies in all cases but one: the content decides.
    path = tmp_path / "a photo, Mädchen 写真.jpg"
    path.write_bytes(form())
    told = measured(path)
    assert told["photo"] == str(path)
    # Compression, missing colours and fewer shades move it by less than its uncertainty.
    assert abs(told["inseam_mm"] - as_sent["inseam_mm"]) < as_sent["sd_mm"]
    low_mm, high_mm = told["interval95_mm"]
    assert low_mm < TRUE_MM < high_mm


def test_a_picture_of_100_megapixels_is_measured(tmp_path, as_sent):
    path = tmp_path / "large.jpg"
    large = original().resize((8664, 11552), Image.Resampling.BILINEAR)
    assert large.width * large.height > 100e6
    large.save(path, quality=80, exif=exif())
    told = measured(path)
    assert abs(told["inseam_mm"] - as_sent["inseam_mm"]) < as_sent["sd_mm"]


@pytest.mark.parametrize("orientation", [0, 9, 99])
def test_an_absurd_orientation_costs_nothing(tmp_path, as_sent, orientation):
    path = tmp_path / "photo.jpg"
    path.write_bytes(SAMPLE.read_bytes())
    original().save(path, quality=95, exif=exif(orientation=orientation))
    assert measured(path)["inseam_mm"] == pytest.approx(as_sent["inseam_mm"], abs=5)


@pytest.mark.parametrize("focal", [0, 1, 65535, "wide", "wide " * 3000])
def test_an_absurd_focal_length_is_not_believed(tmp_path, as_sent, focal):
    path = tmp_path / "photo.jpg"
    original().save(path, quality=95, exif=_exif_with(focal))
    told = measured(path)
    low_mm, high_mm = told["interval95_mm"]
    assert low_mm < TRUE_MM < high_mm
    # Not knowing the lens is never better than knowing it.
    assert told["sd_mm"] >= 0.97 * as_sent["sd_mm"]


def _exif_with(focal: int | str) -> bytes:
    """A block written by hand: Pillow itself refuses to write a text there."""
    if isinstance(focal, int):
        return exif(focal=focal).tobytes()
    text = focal.encode() + b"\0"
    head = b"Exif\0\0II*\0\x08\0\0\0" + struct.pack("<HHHIII", 1, 0x8769, 4, 1, 26, 0)
    return head + struct.pack("<HHHIII", 1, FOCAL_35MM, 2, len(text), 44, 0) + text


PNG = b"\x89PNG\r\n\x1a\n"


def truncated() -> bytes:
    return SAMPLE.read_bytes()[:40_000]


def bomb() -> bytes:
    """A few hundred bytes that claim 3.6 gigapixels."""
    import zlib

    def chunk(name: bytes, body: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(name + body))
        return struct.pack(">I", len(body)) + name + body + check

    header = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    return PNG + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(bytes(9))) + chunk(b"IEND", b"")  # fmt: skip


BAD = [
    (truncated, "the picture is damaged"),
    (lambda: b"", "found an empty file"),
    (lambda: b"Dear shop, see the picture", "not a picture this program reads; wanted JPEG"),
    (lambda: SAMPLE.with_suffix(".json").read_bytes(), "not a picture this program reads"),
    (lambda: PNG, "not a picture this program reads"),
    (bomb, "wanted at most 120 megapixels, found far more"),
    (lambda: encoded(original().resize((150, 200)), "JPEG"), "wanted at least 240 pixels a side"),
]


@pytest.mark.parametrize(("make", "told"), BAD)
def test_a_bad_file_is_refused_in_one_sentence(tmp_path, make, told):
    path = tmp_path / "a photo, Mädchen.jpg"
    path.write_bytes(make())
    result = CliRunner().invoke(app, ["measure", str(path), *SAMPLE_WORDS], catch_exceptions=False)
    assert result.exit_code == EXIT_WRONG_CALL
    assert result.stdout == ""
    (line,) = result.stderr.splitlines()
    assert line.startswith(f"pose-fit: {path}: ")
    assert told in line


def test_a_damaged_photo_among_several_does_not_lose_the_others(tmp_path, as_sent):
    bad = tmp_path / "cut.jpg"
    bad.write_bytes(truncated())
    again = tmp_path / "again.jpg"
    # Bytes behind the picture's end make it another file of the same picture.
    again.write_bytes(SAMPLE.read_bytes() + b"\0")
    words = ["measure", str(SAMPLE), str(bad), str(again), *SAMPLE_WORDS, "--json"]
    result = CliRunner().invoke(app, words, catch_exceptions=False)
    assert result.exit_code == EXIT_WRONG_CALL
    told = [json.loads(line) for line in result.stdout.splitlines()]
    assert [line["inseam_mm"] for line in told] == [as_sent["inseam_mm"]] * 2
    assert "cut.jpg: the picture is damaged" in result.stderr


def test_the_photo_itself_is_never_written_over(tmp_path):
    photo = tmp_path / "photo.jpg"
    photo.write_bytes(SAMPLE.read_bytes())
    (tmp_path / "other name.jpg").symlink_to(photo)
    for overlay in (photo, tmp_path / "other name.jpg"):
        words = ["measure", str(photo), *SAMPLE_WORDS, "--overlay", str(overlay)]
        result = CliRunner().invoke(app, words, catch_exceptions=False)
        assert result.exit_code == EXIT_WRONG_CALL
        assert "is the photo itself" in result.stderr
    assert photo.read_bytes() == SAMPLE.read_bytes()


@pytest.mark.parametrize("name", ["marks.txt", "marks", "marks.pdf"])
def test_an_overlay_of_unknown_kind_is_told_before_the_work(tmp_path, name):
    words = ["measure", str(SAMPLE), *SAMPLE_WORDS, "--overlay", str(tmp_path / name)]
    result = CliRunner().invoke(app, words, catch_exceptions=False)
    assert result.exit_code == EXIT_WRONG_CALL
    assert result.stdout == ""
    assert "wanted a picture's ending .png, .jpg, .jpeg, .webp" in result.stderr


def test_an_overlay_that_finds_no_room_leaves_the_estimate_and_the_old_overlay(tmp_path):
    overlay = tmp_path / "marks of Mädchen.png"
    overlay.write_bytes(b"old")
    limit = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (50_000, 50_000))"
    run = pose_fit("measure", SAMPLE, *SAMPLE_WORDS, "--json", "--overlay", overlay, first=limit)
    assert run.returncode == EXIT_WRONG_CALL
    assert json.loads(run.stdout)["status"] == "measured"
    assert run.stderr.endswith(f"pose-fit: {overlay}: cannot be written (File too large)\n")
    assert "Traceback" not in run.stderr
    assert overlay.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == [overlay.name]
