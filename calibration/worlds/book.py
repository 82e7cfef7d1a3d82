"""A hardback pushed up between the legs, with the printed label over its end."""

from typing import Final

import numpy as np
from numpy.random import Generator

from calibration.scenes.body import SKIN_VERTICES
from calibration.scenes.posing import Posed
from calibration.scenes.references import Book
from pose_fit.reference.book_label import LABEL_HEIGHT_MM, LABEL_WIDTH_MM, label_image

__all__ = ["book_between"]

_PX_PER_MM: Final = 5.0


def book_between(posed: Posed, rng: Generator, *, turn_deg: float) -> Book:
    """The book at the skin's crotch: cloth gives way, and the spine lies against the body.

    A person holds it level within a degree or so, and up to a few millimetres short of the
    skin: flesh yields to it as well.
    """
    crotch_mm = posed.vertices_mm[posed.body.crotch_vertex]
    thickness = float(rng.uniform(16, 34))
    depth = float(rng.uniform(200, 270))
    roll, yaw = np.deg2rad([rng.normal(0, 1.2), turn_deg + rng.normal(0, 3.0)])
    tilt = float(np.deg2rad(rng.normal(0, 1.5)))
    cr, sr, cy, sy = np.cos(roll), np.sin(roll), np.cos(yaw), np.sin(yaw)
    ct, st = np.cos(tilt), np.sin(tilt)
    about_z = np.array([[cr, -sr, 0], [sr, cr, 0], [0, 0, 1]])
    about_x = np.array([[1, 0, 0], [0, ct, -st], [0, st, ct]])
    about_y = np.array([[cy, 0, sy], [0, 1, 0], [-sy, 0, cy]])
    axes = about_y @ about_x @ about_z
    under_mm = float(np.clip(rng.normal(1.0, 2.0), -3.0, 6.0))
    # The label stands out a little before the thighs.
    skin = posed.vertices_mm[:SKIN_VERTICES]
    near = np.abs(skin[:, 0] - crotch_mm[0]) < LABEL_WIDTH_MM / 2
    near &= (skin[:, 1] > crotch_mm[1] - 10) & (skin[:, 1] < crotch_mm[1] + 130)
    before_mm = float(crotch_mm[2] - skin[near, 2].min() + rng.uniform(15, 45))
    top = crotch_mm + np.array([0.0, under_mm, 0.0])
    origin = top + axes @ np.array([0.0, 0.0, -before_mm])
    return Book(
        origin_mm=origin,
        axes=axes,
        thickness_mm=thickness,
        height_mm=float(rng.uniform(140, 200)),
        depth_mm=depth,
        label_width_mm=LABEL_WIDTH_MM,
        label_height_mm=LABEL_HEIGHT_MM,
        label=label_image(px_per_mm=_PX_PER_MM),
        rgb=(float(rng.uniform(0.02, 0.4)), float(rng.uniform(0.02, 0.3)), 0.08),
    )
