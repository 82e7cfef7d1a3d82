"""Samples as a phone would write them: 12 megapixels, and a clip; none so large comes with the project."""

from pathlib import Path

import cv2
import numpy as np
from PIL import Image

from pose_fit.app.inputs.uploads import samples

__all__ = ["large_clip", "large_pictures"]

CLIP_SIZE, CLIP_RATE, CLIP_S = (1080, 1440), 30, 5


def large_pictures(folder: Path) -> list[Path]:
    """The sheet samples at 3000 x 4000 pixels, EXIF kept."""
    paths = []
    for sample in samples():
        if sample.truth["reference"] == "sheet":
            with Image.open(sample.path) as image:
                path = folder / sample.path.name
                image.resize((3000, 4000), Image.Resampling.LANCZOS).save(
                    path, quality=92, exif=image.getexif()
                )
                paths.append(path)
    return paths


def large_clip(folder: Path) -> Path:
    """A sheet sample filmed for five seconds by a hand that moves a little."""
    path = folder / "clip.mp4"
    film = cv2.VideoWriter(str(path), cv2.VideoWriter_fourcc(*"mp4v"), CLIP_RATE, CLIP_SIZE)
    sample = next(one for one in samples() if one.truth["reference"] == "sheet")
    with Image.open(sample.path) as image:
        still = np.asarray(image.convert("RGB").resize(CLIP_SIZE))[:, :, ::-1]
    for number in range(CLIP_RATE * CLIP_S):
        moved = np.float32([[1, 0, 8 * np.sin(number / 20)], [0, 1, 6 * np.cos(number / 27)]])
        film.write(cv2.warpAffine(still, moved, CLIP_SIZE, borderMode=cv2.BORDER_REPLICATE))
    film.release()
    return path
