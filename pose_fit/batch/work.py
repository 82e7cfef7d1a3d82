"""What a worker does with one photo; it never raises."""

import datetime as dt

from pose_fit.batch.job import Job
from pose_fit.batch.row import Row, failed_row, measured_row, refused_row
from pose_fit.errors import InputError, PhotoFileError
from pose_fit.growth.dated_readings import Dated, check_past, picture_day
from pose_fit.refusal import Notice, Refusal

__all__ = ["measure_job"]


def measure_job(job: Job, fingerprint: str) -> Row:
    """Measure the photo with the one pose model of this process."""
    from pose_fit.measure_clip import measure_clip
    from pose_fit.photo.clip import is_clip, read_clip
    from pose_fit.photo.photo import read_photo

    today = job.today or dt.date.today()
    try:
        photos = read_clip(job.path) if is_clip(job.path) else (read_photo(job.path),)
        if job.task.reference.measured_on is not None:
            check_past("measured", job.task.reference.measured_on, today=today)
        day, notices = picture_day(photos[0], job.task.stated, today=today)
        result = measure_clip(photos, job.task)
        if isinstance(result, Refusal):
            return refused_row(job, fingerprint, result)
        measured = Dated(result.inseam.with_warnings(*notices), day, job.task.child)
        return measured_row(job, fingerprint, measured, today=today)
    except PhotoFileError as fault:
        return failed_row(job, fingerprint, Notice("photo_unreadable", str(fault)))
    except InputError as fault:
        return failed_row(job, fingerprint, Notice("arguments_unusable", str(fault)))
    # Whatever one photo brings to light, the others are measured all the same.
    except Exception as fault:
        told = f"{type(fault).__name__}: {fault}"
        return failed_row(job, fingerprint, Notice("unexpected_error", told))
