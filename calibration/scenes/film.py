"""From linear light to the file a phone or a messenger leaves behind."""

from pathlib import Path
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from calibration.scenes.camera import Camera, Window
from calibration.scenes.scene import Film

__all__ = ["develop", "write_photo"]

_ORIENTATION: Final = 0x0112
_EXIF_IFD: Final = 0x8769
_DATE_TIME_ORIGINAL: Final = 0x9003
_FOCAL_LENGTH: Final = 0x920A
_FOCAL_LENGTH_35MM: Final = 0xA405
#: A phone's main sensor is about 5.6 times smaller than full frame.
_CROP_FACTOR: Final = 5.6


def develop(
    linear: NDArray[np.float32], film: Film, *, camera: Camera, window: Window, seed: int
) -> NDArray[np.uint8]:
    """Exposure, colour, lens and sensor faults, tone curve, crop and resize.

    Returns
    -------
    (H, W, 3) array of uint8
        The upright picture, sRGB.
    """
    rng = np.random.default_rng(seed)
    light = linear * _falloff(camera)[..., None]
    luminance = np.maximum(light @ np.array([0.21, 0.72, 0.07], np.float32), 1e-5)
    gain = 0.2 * 2**film.exposure_ev / np.exp(np.log(luminance).mean())
    # A camera holds the lights back: the brightest hundredth stays on the curve.
    gain = min(gain, 1.6 / float(np.percentile(luminance, 99)))
    light = light * gain * [1 + film.white_balance, 1.0, 1 - film.white_balance]
    light = cv2.GaussianBlur(light, (0, 0), max(film.blur_px, 0.15))
    spread = film.noise * np.sqrt(np.maximum(light, 0) + 0.05) * 4
    light = light + rng.normal(size=light.shape) * spread * [1.2, 1.0, 1.4]
    toned = 1 - np.exp(-1.5 * np.maximum(light, 0))
    encoded = np.where(toned < 0.0031308, 12.92 * toned, 1.055 * toned ** (1 / 2.4) - 0.055)
    picture = encoded.astype(np.float32)
    picture += 0.35 * (picture - cv2.GaussianBlur(picture, (0, 0), 1.2))
    picture = picture[
        window.top_px : window.top_px + window.height_px,
        window.left_px : window.left_px + window.width_px,
    ]
    size = (window.final_width_px, window.final_height_px)
    if size != (window.width_px, window.height_px):
        picture = np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_AREA), np.float32)
    upright: NDArray[np.uint8] = np.round(255 * np.clip(picture, 0, 1)).astype(np.uint8)
    return upright


def write_photo(picture: NDArray[np.uint8], film: Film, path: Path) -> None:
    """Saves a JPEG, with the EXIF a phone writes or without any."""
    image = Image.fromarray(picture)
    exif = Image.Exif()
    if film.exif_focal_35mm is not None:
        details = exif.get_ifd(_EXIF_IFD)
        details[_FOCAL_LENGTH_35MM] = film.exif_focal_35mm
        details[_FOCAL_LENGTH] = round(film.exif_focal_35mm / _CROP_FACTOR, 2)
        if film.date_time is not None:
            details[_DATE_TIME_ORIGINAL] = film.date_time
        exif[_ORIENTATION] = 1
        if film.stored_rotated:
            # Orientation 6: the viewer turns the stored picture a quarter clockwise.
            image = image.transpose(Image.Transpose.ROTATE_90)
            exif[_ORIENTATION] = 6
    part = path.with_suffix(".part")
    image.save(part, "JPEG", quality=film.jpeg_quality, exif=exif)
    part.replace(path)


def _falloff(camera: Camera) -> NDArray[np.float32]:
    """A mild vignette: a third of the cosine-fourth law, the rest corrected in the phone."""
    x = (np.arange(camera.width_px) - camera.centre_px[0]) / camera.focal_px
    y = (np.arange(camera.height_px) - camera.centre_px[1]) / camera.focal_px
    cosine = 1 / np.sqrt(1 + x[None] ** 2 + y[:, None] ** 2)
    fall: NDArray[np.float32] = (cosine ** (4 / 3)).astype(np.float32)
    return fall
