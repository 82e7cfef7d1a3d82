"""A pose model that looks at each photo once."""

from pose_fit.body.body import Body, PoseModel
from pose_fit.photo.photo import Photo

__all__ = ["BodyOnce"]


class BodyOnce:
    """Remembers who was found in each photo."""

    def __init__(self, model: PoseModel) -> None:
        self._model = model
        self._found: dict[int, tuple[Photo, Body | None]] = {}

    def find(self, photo: Photo) -> Body | None:
        """The person in the photo, from memory where it was looked at before."""
        if not self.knows(photo):
            self.know(photo, self._model.find(photo))
        return self._found[id(photo)][1]

    def knows(self, photo: Photo) -> bool:
        """Whether the photo was looked at before."""
        return id(photo) in self._found

    def know(self, photo: Photo, body: Body | None) -> None:
        """Take it as known who is in the photo."""
        # The photo is kept with its body, so that its id stays its own.
        self._found[id(photo)] = photo, body

    def forget(self, photo: Photo) -> None:
        """Drop a photo and what was found in it."""
        self._found.pop(id(photo), None)
