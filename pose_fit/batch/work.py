"""What a worker does with the photos of one row; it never raises."""

import datetime as dt
from contextlib import suppress

from pose_fit.batch.job import Job, ListedPhoto
from pose_fit.batch.row import LeftOut, Row, failed_row, measured_row, nothing_row, refused_row
from pose_fit.errors import InputError, PhotoFileError
from pose_fit.files.content import content_digest
from pose_fit.growth.dated_readings import Dated, check_past, child_on, combined, picture_day
from pose_fit.refusal import Notice, Refusal
from pose_fit.report.contradiction import contradiction

__all__ = ["measure_job", "row_of_readings"]


def measure_job(job: Job, fingerprint: str) -> Row:
    """Measure the photos with the one pose model of this process."""
    today = job.today or dt.date.today()
    copies = _copies(job.photos) if len(job.photos) > 1 else {}
    found = [
        (photo.name, copies.get(place) or _measured(photo, today=today))
        for place, photo in enumerate(job.photos)
    ]
    readings = [one for _, one in found if isinstance(one, Dated)]
    left_out = [LeftOut(name, one) for name, one in found if not isinstance(one, Dated)]
    try:
        return row_of_readings(job, fingerprint, readings, left_out, today=today)
    except Exception as fault:
        return failed_row(job, fingerprint, _notice_of(fault))


def row_of_readings(
    job: Job, fingerprint: str, readings: list[Dated], left_out: list[LeftOut], *, today: dt.date
) -> Row:
    """One row of what the photos of a child gave, with its tape.

    Raises
    ------
    InputError
        The day of the tape is still to come.
    """
    if job.tape_mm:
        readings = [*readings, _by_tape(job, readings, today=today)]
    if not readings:
        return nothing_row(job, fingerprint, left_out)
    together = combined(readings)
    against = None
    # A photo alone is compared with the child where it is measured.
    if isinstance(together, Dated) and (len(readings) > 1 or job.tape_mm):
        against = contradiction(together.inseam, together.child)
    if isinstance(together, Refusal) or against is not None:
        refusal = together if isinstance(together, Refusal) else against
        assert refusal is not None
        return refused_row(job, fingerprint, refusal, left_out=left_out)
    return measured_row(job, fingerprint, together, today=today, left_out=left_out)


def _measured(photo: ListedPhoto, *, today: dt.date) -> Dated | Refusal | Notice:
    """The photo's inseam with its day, or why there is none; whatever comes, the others go on."""
    from pose_fit.body.looks import looks_of
    from pose_fit.measure_clip import measure_clip
    from pose_fit.photo.clip import is_clip, read_clip
    from pose_fit.photo.photo import read_photo

    try:
        photos = read_clip(photo.path) if is_clip(photo.path) else (read_photo(photo.path),)
        if photo.task.reference.measured_on is not None:
            check_past("measured", photo.task.reference.measured_on, today=today)
        day, notices = picture_day(photos[0], photo.task.stated, today=today)
        result = measure_clip(photos, photo.task)
        if isinstance(result, Refusal):
            return result
        looks = looks_of(photos[0], result.observed.body)
        return Dated(result.inseam.with_warnings(*notices), day, photo.task.child, looks)
    except Exception as fault:
        return _notice_of(fault)


def _copies(photos: tuple[ListedPhoto, ...]) -> dict[int, Notice]:
    """By its place each photo that is another one's file: it counts once."""
    first: dict[bytes, str] = {}
    copies: dict[int, Notice] = {}
    for place, photo in enumerate(photos):
        with suppress(OSError):
            digest = content_digest(photo.path)
            if digest in first:
                text = f"It is the same file as {first[digest]}, and counts once."
                copies[place] = Notice("same_file", text)
            first.setdefault(digest, photo.name)
    return copies


def _notice_of(fault: Exception) -> Notice:
    if isinstance(fault, PhotoFileError):
        return Notice("photo_unreadable", str(fault))
    if isinstance(fault, InputError):
        return Notice("arguments_unusable", str(fault))
    return Notice("unexpected_error", f"{type(fault).__name__}: {fault}")


def _by_tape(job: Job, readings: list[Dated], *, today: dt.date) -> Dated:
    """The tape with the child as it was on the tape's day; stated is the child of the photo's day."""
    from pose_fit.inseam.tape_questions import questioned_tape

    day = job.taped_on or today
    check_past("taped", day, today=today)
    last = max(readings, key=lambda reading: reading.on, default=None)
    child = job.photos[-1].task.child
    if last is not None:
        child = child_on(last.child, stated_on=last.on, on=day)
    return Dated(questioned_tape(job.tape_mm, child, care=job.tape_care), day, child)
