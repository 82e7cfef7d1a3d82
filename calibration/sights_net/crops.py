"""Training crops: each photo's legs with room around them, and where the sights are in it.

python -m calibration.sights_net.crops CROPS.npz WORLD [WORLD ...]
"""

import argparse
import json
from pathlib import Path
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps

from calibration.sights_net.window import targets_px
from pose_fit.sights.legs_network import WINDOW_PX, window_map

__all__ = ["CROP_MARGIN_PX", "write_crops"]

#: Rows and columns around the window that a training window may wander into.
CROP_MARGIN_PX: Final = 56


def write_crops(folders: list[Path], out: Path) -> int:
    """Write the crops of all photos of some folders as JPEGs in one file; returns how many."""
    pictures: list[NDArray[np.uint8]] = []
    targets, worlds, names = [], [], []
    for folder in folders:
        for path in sorted(folder.glob("*.json")):
            truth: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
            with Image.open(path.with_suffix(".jpg")) as image:
                picture = np.asarray(ImageOps.exif_transpose(image).convert("RGB"))
            crop, places = _crop(picture, truth)
            encoded = cv2.imencode(".jpg", crop[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, 90])[1]
            pictures.append(encoded.ravel())
            targets.append(places)
            worlds.append(truth.get("dressed_as", truth["world"]))
            names.append(truth["photo"])
    np.savez(
        out,
        bytes=np.concatenate(pictures),
        lengths=np.array([len(p) for p in pictures]),
        targets=np.stack(targets).astype(np.float32),
        worlds=np.array(worlds),
        names=np.array(names),
    )
    return len(pictures)


def _crop(
    picture: NDArray[np.uint8], truth: dict[str, Any]
) -> tuple[NDArray[np.uint8], NDArray[np.float64]]:
    marks = {name: np.array(point) for name, point in truth["landmarks_px"].items()}
    hips = (marks["hip_left"] + marks["hip_right"]) / 2
    ankles = (marks["ankle_left"] + marks["ankle_right"]) / 2
    to_picture = window_map(hips, ankles)
    wider = to_picture.copy()
    wider[:, 2] -= to_picture[:, :2] @ [CROP_MARGIN_PX, CROP_MARGIN_PX]
    height, width = (size + 2 * CROP_MARGIN_PX for size in WINDOW_PX)
    shrink = float(np.hypot(*to_picture[:, 0]))
    if shrink > 1.3:
        picture = np.asarray(cv2.GaussianBlur(picture, (0, 0), 0.35 * shrink), np.uint8)
    crop = cv2.warpAffine(
        picture,
        wider,
        (width, height),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return np.asarray(crop, np.uint8), targets_px(truth, to_picture) + CROP_MARGIN_PX


def main() -> None:
    """Crops of the photos in some folders of rendered worlds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("worlds", type=Path, nargs="+")
    args = parser.parse_args()
    print(f"{write_crops(args.worlds, args.out)} photos")


if __name__ == "__main__":
    main()
