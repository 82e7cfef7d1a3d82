"""Settings for all tests, and pictures and bodies made up for them."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import HealthCheck, settings
from numpy.typing import NDArray

from pose_fit.body.body import LANDMARKS, Body, Landmark
from pose_fit.photo.photo import Photo

# No deadlines: speed is measured by benchmarks, not by tests on a busy machine. The same
# examples every time, so that a check that passed here passes there.
settings.register_profile(
    "steady", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")

#: A child seen from the front, standing, feet a hand apart: (x, y) in leg lengths, hips at the
#: origin; the child's left is at the picture's right.
_STANDING: dict[Landmark, tuple[float, float]] = {
    "nose": (0.0, -1.05),
    "left_eye": (0.04, -1.1),
    "right_eye": (-0.04, -1.1),
    "left_ear": (0.09, -1.07),
    "right_ear": (-0.09, -1.07),
    "left_shoulder": (0.22, -0.75),
    "right_shoulder": (-0.22, -0.75),
    "left_hip": (0.12, 0.0),
    "right_hip": (-0.12, 0.0),
    "left_knee": (0.13, 0.52),
    "right_knee": (-0.13, 0.52),
    "left_ankle": (0.14, 1.0),
    "right_ankle": (-0.14, 1.0),
    "left_heel": (0.14, 1.08),
    "right_heel": (-0.14, 1.08),
    "left_toe": (0.18, 1.13),
    "right_toe": (-0.18, 1.13),
}


@pytest.fixture
def photo_of() -> Callable[..., Photo]:
    """Makes a photo of pixels, grey or RGB, as if the file had ``scale`` times as many."""

    def make(
        pixels: NDArray[np.uint8], *, scale: float = 1.0, focal_35mm: float | None = 26.0
    ) -> Photo:
        shaded = pixels if pixels.ndim == 3 else np.repeat(pixels[..., None], 3, axis=2)
        height_px, width_px = (round(side * scale) for side in pixels.shape[:2])
        return Photo("made up", shaded, width_px, height_px, focal_35mm, False, None)

    return make


@pytest.fixture
def standing() -> Callable[..., Body]:
    """Makes a standing body: where its hips are, how long its legs, which landmarks lie elsewhere.

    Lengths are upright pixels; ``moved`` gives (x, y) in leg lengths from between the hips.
    """

    def make(
        photo: Photo,
        *,
        hips_px: tuple[float, float],
        leg_px: float,
        moved: dict[Landmark, tuple[float, float]] | None = None,
        scatter_px: float = 0.5,
        visibility: float = 0.98,
    ) -> Body:
        places = _STANDING | (moved or {})
        points_px = np.array([places[mark] for mark in LANDMARKS]) * leg_px + hips_px
        rng = np.random.default_rng(5)
        passes_px = points_px + rng.normal(0, scatter_px, (6, len(LANDMARKS), 2))
        passes_px += points_px - passes_px.mean(axis=0)
        rows, columns = np.indices(photo.pixels.shape[:2])
        low, high = photo.working_px(np.stack([points_px.min(axis=0), points_px.max(axis=0)]))
        inside = (columns > low[0]) & (columns < high[0]) & (rows > low[1]) & (rows < high[1])
        return Body(passes_px, np.full(len(LANDMARKS), visibility), inside.astype(np.float32))

    return make
