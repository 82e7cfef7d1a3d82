"""Children drawn with a known inseam, and what is measured of their sights: no picture, no network."""

from dataclasses import replace
from functools import cache
from typing import Final

import numpy as np

from pose_fit.checks.which_size import SizeWeight
from pose_fit.inseam.error_model import ErrorModel, error_model
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from pose_fit.measure import PhotoMeasurement
from pose_fit.photo.photo import Photo
from pose_fit.reference.size_hypotheses import SizeHypothesis
from tests.inseam.drawn_child import Drawn, draw_child

__all__ = ["MODEL", "WALL", "drawn_children", "measured"]

#: What the drawn children do not have is left out: nothing differs between worlds.
MODEL: Final = replace(error_model(), world_sd_mm=1e-6)
#: A picture of nothing, as large as the drawn camera's.
WALL: Final = Photo("", np.zeros((1600, 1200, 3), np.uint8), 1200, 1600, None, False, None)


@cache
def drawn_children(
    count: int = 60, *, seed: int = 11, stance: str = "at wall", model: ErrorModel = MODEL
) -> tuple[Drawn, ...]:
    """The same children whenever the arguments are the same."""
    rng = np.random.default_rng(seed)
    return tuple(draw_child(rng, model=model, stance=stance) for _ in range(count))


def measured(sights: PhotoSights, *, model: ErrorModel = MODEL) -> PhotoMeasurement:
    """The measurement that these sights give, without the checks of a picture."""
    reading = read_inseam(sights, model=model)
    legs = legs_of(sights.plane, sights.body, beside=sights.is_beside, model=model)
    length = reading.length
    size = SizeHypothesis(sights.reference, odds=1.0, name="the sheet", tell="")
    sizes = (SizeWeight(size, length.mean_mm, 1.0),)
    return PhotoMeasurement(WALL, sights, legs, reading, Inseam(length, "photo"), sizes)
