"""What a page asks of a picture, also of one that nobody has opened yet."""

import datetime as dt
from dataclasses import dataclass

from pose_fit.anthropometry.child import Child
from pose_fit.growth.dated_readings import child_on, picture_day
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["Question"]


@dataclass(frozen=True, slots=True)
class Question:
    """All of a task but the child's age on the picture's day, which the file may tell.

    Attributes
    ----------
    child
        As it is on ``today``.
    """

    reference: ReferenceRequest
    stated: Stated
    child: Child
    today: dt.date
    use_child: bool = True

    def task(self, photo: Photo) -> PhotoTask:
        """What is asked of this picture."""
        on, _ = picture_day(photo, self.stated, today=self.today)
        child = child_on(self.child, stated_on=self.today, on=on)
        return PhotoTask(self.reference, self.stated, child, use_child=self.use_child)
