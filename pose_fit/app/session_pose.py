"""The pose model of a session: workers look, each photo is looked at once."""

from pose_fit.app.session import remembered
from pose_fit.app.turns import in_turn
from pose_fit.app.worker_jobs import Looked, find_body
from pose_fit.body.body import Body
from pose_fit.body.body_once import BodyOnce
from pose_fit.photo.photo import Photo

__all__ = ["looked_at", "session_pose"]


class _WorkersPose:
    """The pose model of the worker processes; this process loads none."""

    def find(self, photo: Photo) -> Body | None:
        """The person in the photo."""
        return in_turn(find_body, photo)


def session_pose() -> BodyOnce:
    """The pose model of this session."""
    return remembered("pose", lambda: BodyOnce(_WorkersPose()))


def looked_at(photo: Photo) -> Looked:
    """A photo with what this session knows of it, for a worker."""
    pose = session_pose()
    knows = pose.knows(photo)
    return Looked(photo, pose.find(photo) if knows else None, knows)
