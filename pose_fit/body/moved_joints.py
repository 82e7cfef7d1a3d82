"""Joints that somebody moved by hand, in place of where the pose model saw them."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from pose_fit.body.body import LANDMARKS, Body, Landmark, PoseModel
from pose_fit.photo.photo import Photo

__all__ = ["MovedJoints"]


class MovedJoints:
    """A pose model whose joints were put right.

    Every look at a moved joint shifts by the same way, so its mean is where it was put and its
    scatter, which the uncertainty is made of, stays.
    """

    def __init__(self, model: PoseModel, moved_px: Mapping[Landmark, tuple[float, float]]) -> None:
        self._model = model
        self._moved_px = dict(moved_px)

    def find(self, photo: Photo) -> Body | None:
        """The body with its joints put right."""
        body = self._model.find(photo)
        if body is None or not self._moved_px:
            return body
        passes_px = body.passes_px.copy()
        for landmark, place_px in self._moved_px.items():
            shift_px = np.array(place_px) - body.point_px(landmark)
            passes_px[:, LANDMARKS.index(landmark)] += shift_px
        return replace(body, passes_px=passes_px)
