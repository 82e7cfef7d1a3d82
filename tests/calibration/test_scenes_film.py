import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageOps

from calibration.scenes.camera import Camera, window_of
from calibration.scenes.draw import draw_scene
from calibration.scenes.film import develop, write_photo
from calibration.scenes.truth import read_truths, write_truth

CAMERA = Camera(
    focal_px=120.0,
    centre_px=(44.5, 59.5),
    k1=0.0,
    position_mm=(0.0, -900.0, -2000.0),
    yaw_rad=0.0,
    pitch_rad=0.0,
    roll_rad=0.0,
    width_px=90,
    height_px=120,
)
FILM = replace(
    draw_scene(seed=1, index=0, width_px=90, height_px=120).film,
    treatment="original",
    crop_left=0.0,
    crop_top=0.0,
    crop_right=0.0,
    crop_bottom=0.0,
    resize=1.0,
    jpeg_quality=95,
    noise=0.001,
    exposure_ev=0.0,
    white_balance=0.0,
    stored_rotated=False,
    exif_focal_35mm=26,
    date_time="2025:03:04 10:11:12",
)


def corner_light() -> np.ndarray:
    """Grey, with the top left corner much brighter."""
    linear = np.full((120, 90, 3), 0.2, np.float32)
    linear[:30, :30] = 0.9
    return linear


def developed(film=FILM, seed: int = 1) -> np.ndarray:
    window = window_of(film, width_px=90, height_px=120)
    return develop(corner_light(), film, camera=CAMERA, window=window, seed=seed)


def test_developing_is_seeded_and_exposes_to_a_middle_grey() -> None:
    first = developed()
    np.testing.assert_array_equal(first, developed())
    assert (first != developed(seed=2)).any()
    assert first.shape == (120, 90, 3)
    assert 90 < np.median(first) < 170
    assert first[:20, :20].mean() > first[60:, 40:].mean() + 40


def test_more_exposure_is_brighter_and_noise_is_noisier() -> None:
    assert developed(replace(FILM, exposure_ev=0.5)).mean() > developed().mean() + 8
    flat = developed()[60:, 40:].astype(float).std()
    assert developed(replace(FILM, noise=0.03))[60:, 40:].astype(float).std() > 2 * flat


@pytest.mark.parametrize("stored_rotated", [False, True])
def test_the_file_shows_the_upright_picture_and_its_focal_length(
    tmp_path: Path, stored_rotated: bool
) -> None:
    picture = developed()
    path = tmp_path / "photo.jpg"
    write_photo(picture, replace(FILM, stored_rotated=stored_rotated), path)
    with Image.open(path) as stored:
        assert (stored.size == (120, 90)) is stored_rotated
        details = stored.getexif().get_ifd(0x8769)
        assert details[0xA405] == 26
        assert details[0x9003] == "2025:03:04 10:11:12"
        upright = np.asarray(ImageOps.exif_transpose(stored)).astype(float)
    assert upright.shape == picture.shape
    assert np.abs(upright - picture).mean() < 6
    assert list(tmp_path.iterdir()) == [path]


def test_a_messenger_leaves_no_exif(tmp_path: Path) -> None:
    film = replace(FILM, treatment="messenger", exif_focal_35mm=None, date_time=None)
    write_photo(developed(film), film, tmp_path / "photo.jpg")
    with Image.open(tmp_path / "photo.jpg") as stored:
        assert not dict(stored.getexif())


def test_truths_are_read_in_order_and_only_with_their_pictures(tmp_path: Path) -> None:
    def put(index: int, *, with_picture: bool = True) -> None:
        truth = {
            "seed": 1,
            "index": index,
            "photo_of_child": 0,
            "inseam_mm": 500.0 + index,
            "photo": f"{index}.jpg",
        }
        write_truth(truth, tmp_path / f"{index}.json")
        if with_picture:
            (tmp_path / f"{index}.jpg").write_bytes(b"x")

    put(10)
    put(9)
    put(2, with_picture=False)
    (tmp_path / "other.json").write_text(json.dumps({"note": "not a truth"}))
    assert [truth["inseam_mm"] for truth in read_truths(tmp_path)] == [509.0, 510.0]
