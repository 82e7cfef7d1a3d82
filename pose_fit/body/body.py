"""A body found in a picture, in pixels of the upright picture."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal, Protocol, get_args

import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.photo import Photo

__all__ = [
    "LANDMARKS",
    "LEFT_LEG",
    "LEG_LANDMARKS",
    "RIGHT_LEG",
    "Body",
    "Bystander",
    "Landmark",
    "PoseModel",
]

Landmark = Literal[
    "nose",
    "left_eye",
    "right_eye",
    "left_ear",
    "right_ear",
    "left_shoulder",
    "right_shoulder",
    "left_hip",
    "right_hip",
    "left_knee",
    "right_knee",
    "left_ankle",
    "right_ankle",
    "left_heel",
    "right_heel",
    "left_toe",
    "right_toe",
]
LANDMARKS: Final[tuple[Landmark, ...]] = get_args(Landmark)
#: Hip, knee and ankle.
LEFT_LEG: Final[tuple[Landmark, Landmark, Landmark]] = ("left_hip", "left_knee", "left_ankle")
RIGHT_LEG: Final[tuple[Landmark, Landmark, Landmark]] = ("right_hip", "right_knee", "right_ankle")
#: The joint centres whose distances make the leg.
LEG_LANDMARKS: Final[tuple[Landmark, ...]] = (
    "left_hip",
    "right_hip",
    "left_knee",
    "right_knee",
    "left_ankle",
    "right_ankle",
)


@dataclass(frozen=True, slots=True, eq=False)
class Bystander:
    """Somebody else in the picture.

    Attributes
    ----------
    points_px
        (L, 2) array: each landmark of ``LANDMARKS``, upright pixels.
    """

    points_px: NDArray[np.float64]

    @property
    def hips_px(self) -> NDArray[np.float64]:
        """(2,) array: between the hips."""
        return self._between("left_hip", "right_hip")

    @property
    def ankles_px(self) -> NDArray[np.float64]:
        """(2,) array: between the ankles."""
        return self._between("left_ankle", "right_ankle")

    @property
    def leg_px(self) -> float:
        """Length of the legs in the picture, hip to ankle, pixels."""
        return float(np.hypot(*(self.ankles_px - self.hips_px)))

    def _between(self, one: Landmark, other: Landmark) -> NDArray[np.float64]:
        places = [LANDMARKS.index(one), LANDMARKS.index(other)]
        middle: NDArray[np.float64] = self.points_px[places].mean(axis=0)
        return middle


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Landmarks of one person and the pixels that belong to that person.

    Attributes
    ----------
    passes_px
        (P, L, 2) array: each landmark of ``LANDMARKS`` in each of P repeated looks
        at shifted, scaled and mirrored crops, x right and y down.
    visibility
        (L,) array in [0, 1]: how surely the model saw each landmark.
    mask
        (H, W) array of float32 in [0, 1] at the photo's working size: share of the
        looks that put the pixel on the person.
    bystanders
        Everybody else in the picture.
    world_m
        (L, 3) array: the pose model's guess of the body in space, mean of the looks; metres
        from between the hips, x right, y down, z away. Good enough to tell a bent knee, not to
        measure; None from a model without depth.
    """

    passes_px: NDArray[np.float64]
    visibility: NDArray[np.float64]
    mask: NDArray[np.float32]
    bystanders: tuple[Bystander, ...] = ()
    world_m: NDArray[np.float64] | None = None

    def __post_init__(self) -> None:
        wanted = (len(LANDMARKS), 2)
        if self.passes_px.ndim != 3 or self.passes_px.shape[1:] != wanted:
            raise ValueError(f"wanted passes of shape (P, {wanted}), found {self.passes_px.shape}")

    def point_px(self, landmark: Landmark) -> NDArray[np.float64]:
        """(2,) array: mean position over the looks."""
        mean: NDArray[np.float64] = self.passes_px[:, LANDMARKS.index(landmark)].mean(axis=0)
        return mean

    def points_px(self, landmarks: tuple[Landmark, ...]) -> NDArray[np.float64]:
        """(N, 2) array: mean positions over the looks."""
        return np.array([self.point_px(landmark) for landmark in landmarks])

    def with_points(self, places_px: Mapping[Landmark, NDArray[np.float64]]) -> "Body":
        """The body with some landmarks elsewhere, (2,) arrays in upright pixels.

        Every look at such a landmark shifts by the same way, so its mean is where it was put and
        its scatter, which the uncertainty is made of, stays.
        """
        passes_px = self.passes_px.copy()
        for landmark, place_px in places_px.items():
            passes_px[:, LANDMARKS.index(landmark)] += place_px - self.point_px(landmark)
        return replace(self, passes_px=passes_px)

    def scatter_px(self, landmark: Landmark) -> NDArray[np.float64]:
        """(2,) array: standard deviation of one look, in x and y."""
        looks = self.passes_px[:, LANDMARKS.index(landmark)]
        scatter: NDArray[np.float64] = looks.std(axis=0, ddof=1)
        return scatter

    def seen(self, landmark: Landmark) -> float:
        """How surely the model saw a landmark, 0 to 1."""
        return float(self.visibility[LANDMARKS.index(landmark)])

    @property
    def leg_px(self) -> float:
        """Length of the legs in the picture, hip to ankle, pixels."""
        return float(np.hypot(*(self.ankles_px - self.hips_px)))

    @property
    def hips_px(self) -> NDArray[np.float64]:
        """(2,) array: between the hips."""
        middle: NDArray[np.float64] = self.points_px(("left_hip", "right_hip")).mean(axis=0)
        return middle

    @property
    def ankles_px(self) -> NDArray[np.float64]:
        """(2,) array: between the ankles."""
        middle: NDArray[np.float64] = self.points_px(("left_ankle", "right_ankle")).mean(axis=0)
        return middle


class PoseModel(Protocol):
    """What a pose model must do for us; a new one needs one class with this method."""

    def find(self, photo: Photo) -> Body | None:
        """The most prominent person in the photo, or None where there is nobody."""
        ...
