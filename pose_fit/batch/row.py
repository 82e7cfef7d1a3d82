"""A row of the table: what a child's photos gave, why they gave nothing, or what went wrong."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, get_args

from pose_fit.batch.job import Job
from pose_fit.files.csv_export import safe_cell
from pose_fit.fit.choice import NoneFits, choose
from pose_fit.fit.choice_words import choice_text
from pose_fit.growth.dated_readings import Dated
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal, told_once
from pose_fit.report.answer import how_sure_of
from pose_fit.report.asks import terminal_remedies
from pose_fit.report.rounding import tenth

__all__ = [
    "COLUMNS",
    "LeftOut",
    "Row",
    "Status",
    "failed_row",
    "measured_row",
    "nothing_row",
    "refused_row",
]

Status = Literal["measured", "refused", "failed"]

COLUMNS: Final = (
    "photo",
    "child",
    "status",
    "reasons",
    "warnings",
    "method",
    "inseam_mm",
    "sd_mm",
    "low95_mm",
    "high95_mm",
    "taken_on",
    "today",
    "inseam_today_mm",
    "sd_today_mm",
    "bicycle",
    "verdict",
    "how_sure",
    "contact_probability",
    "clearance_mm",
    "advice",
    "message",
    "fingerprint",
)
_STATUS, _REASONS = COLUMNS.index("status"), COLUMNS.index("reasons")
_FINGERPRINT = COLUMNS.index("fingerprint")


@dataclass(frozen=True, slots=True)
class Row:
    """The cells under :data:`COLUMNS`, as they stand in the file."""

    cells: tuple[str, ...]

    def __post_init__(self) -> None:
        if len(self.cells) != len(COLUMNS) or not all(isinstance(c, str) for c in self.cells):
            raise ValueError(f"wanted {len(COLUMNS)} cells of text, found {self.cells!r}")
        if self.cells[_STATUS] not in get_args(Status):
            raise ValueError(
                f"wanted a status of {', '.join(get_args(Status))}, found {self.cells[_STATUS]!r}"
            )

    @property
    def status(self) -> Status:
        """Measured, refused with reasons, or failed for a reason outside the picture's content."""
        return self.cells[_STATUS]  # type: ignore[return-value]

    @property
    def is_partly_measured(self) -> bool:
        """Whether it is measured though a photo of the child gave nothing."""
        return self.status == "measured" and bool(self.cells[_REASONS])

    @property
    def fingerprint(self) -> str:
        """Of the job it answers."""
        return self.cells[_FINGERPRINT]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A photo that gave nothing, by name: a refusal, or what kept the program from measuring it."""

    name: str
    why: Refusal | Notice

    @property
    def reasons(self) -> tuple[Notice, ...]:
        """Why."""
        return self.why.reasons if isinstance(self.why, Refusal) else (self.why,)

    @property
    def message(self) -> str:
        """Why, and what to change."""
        if isinstance(self.why, Notice):
            return self.why.message
        return " ".join((str(self.why), *terminal_remedies(self.why)))


def measured_row(
    job: Job,
    fingerprint: str,
    measured: Dated,
    *,
    today: dt.date,
    left_out: Sequence[LeftOut] = (),
) -> Row:
    """The inseam on its day and today, and the best bicycle where some are judged.

    ``left_out`` are the photos of the child that gave nothing: the row names them and why.
    """
    inseam, carried = measured.inseam, measured.carried_to(today)
    low_mm, high_mm = inseam.interval95_mm
    told: dict[str, str | float] = {}
    if isinstance(carried, Refusal):
        warnings = (*inseam.warnings, *carried.reasons)
    else:
        warnings = carried.inseam.warnings
        told = {
            "inseam_today_mm": tenth(carried.inseam.mean_mm),
            "sd_today_mm": tenth(carried.inseam.sd_mm),
            **_advice(job, carried.inseam),
        }
    return _row(
        job,
        fingerprint,
        status="measured",
        reasons=_codes(reason for one in left_out for reason in one.reasons),
        warnings=_codes(warnings),
        method=inseam.method,
        inseam_mm=tenth(inseam.mean_mm),
        sd_mm=tenth(inseam.sd_mm),
        low95_mm=tenth(low_mm),
        high95_mm=tenth(high_mm),
        taken_on=str(measured.on),
        today=str(today),
        message=" ".join(
            [*(notice.message for notice in told_once(warnings)), *_by_name(left_out)]
        ),
        **told,
    )


def refused_row(
    job: Job, fingerprint: str, refusal: Refusal, *, left_out: Sequence[LeftOut] = ()
) -> Row:
    """Why nothing is said of the child, and what to change."""
    reasons = (*refusal.reasons, *(reason for one in left_out for reason in one.reasons))
    return _row(
        job,
        fingerprint,
        status="refused",
        reasons=_codes(reasons),
        message=" ".join((str(refusal), *terminal_remedies(refusal), *_by_name(left_out))),
    )


def nothing_row(job: Job, fingerprint: str, left_out: Sequence[LeftOut]) -> Row:
    """No photo gave anything: refused, or failed where it was no picture's fault."""
    if len(left_out) == 1:
        (only,) = left_out
        if isinstance(only.why, Refusal):
            return refused_row(job, fingerprint, only.why)
        return failed_row(job, fingerprint, only.why)
    is_refused = any(isinstance(one.why, Refusal) for one in left_out)
    return _row(
        job,
        fingerprint,
        status="refused" if is_refused else "failed",
        reasons=_codes(reason for one in left_out for reason in one.reasons),
        message=" ".join(_by_name(left_out)),
    )


def failed_row(job: Job, fingerprint: str, reason: Notice) -> Row:
    """What kept the program from measuring; the next run tries it again."""
    return _row(job, fingerprint, status="failed", reasons=reason.code, message=reason.message)


def _by_name(left_out: Sequence[LeftOut]) -> list[str]:
    # What is wrong with a file begins with its path.
    return [
        one.message if one.name in one.message else f"{one.name}: {one.message}" for one in left_out
    ]


def _advice(job: Job, inseam: Inseam) -> dict[str, str | float]:
    if not job.stock:
        return {}
    choice = choose(job.stock.judged(inseam, job.rider))
    if isinstance(choice, NoneFits):
        return {"advice": choice_text(choice)}
    best = choice.best
    clearance = {"clearance_mm": tenth(best.clearance_mm)} if best.bicycle.has_top_tube else {}
    return {
        "bicycle": best.bicycle.name,
        "verdict": best.shown,
        "how_sure": how_sure_of(best),
        "contact_probability": round(best.probabilities["contact"], 4),
        **clearance,
        "advice": choice_text(choice),
    }


def _codes(notices: Iterable[Notice]) -> str:
    return " ".join(dict.fromkeys(notice.code for notice in notices))


def _row(job: Job, fingerprint: str, **values: str | float) -> Row:
    values |= {"photo": job.name, "child": job.child, "fingerprint": fingerprint}
    return Row(tuple(_text(values.get(column, "")) for column in COLUMNS))


def _text(value: str | float) -> str:
    # A file's name need not be text that can be written.
    return (
        safe_cell(value.encode("utf-8", "backslashreplace").decode())
        if isinstance(value, str)
        else str(value)
    )
