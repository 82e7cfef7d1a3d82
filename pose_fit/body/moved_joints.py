"""Joints that somebody moved by hand, in place of where the pose model saw them."""

from collections.abc import Mapping

import numpy as np

from pose_fit.body.body import Body, Landmark, PoseModel
from pose_fit.photo.photo import Photo

__all__ = ["MovedJoints"]


class MovedJoints:
    """A pose model whose joints were put right."""

    def __init__(self, model: PoseModel, moved_px: Mapping[Landmark, tuple[float, float]]) -> None:
        self._model = model
        self._moved_px = dict(moved_px)

    def find(self, photo: Photo) -> Body | None:
        """The body with its joints put right."""
        body = self._model.find(photo)
        if body is None or not self._moved_px:
            return body
        return body.with_points({joint: np.array(px) for joint, px in self._moved_px.items()})
