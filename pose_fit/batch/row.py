"""A row of the table: what a photo gave, why it gave nothing, or what went wrong."""

from dataclasses import dataclass
from typing import Final, Literal, get_args

from pose_fit.batch.job import Job
from pose_fit.files.csv_table import safe_cell
from pose_fit.fit.choice import NoneFits, choose
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.words import choice_text
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal
from pose_fit.report.rounding import tenth

__all__ = ["COLUMNS", "Row", "Status", "failed_row", "measured_row", "refused_row"]

Status = Literal["measured", "refused", "failed"]

COLUMNS: Final = (
    "photo",
    "status",
    "reasons",
    "warnings",
    "inseam_mm",
    "sd_mm",
    "low95_mm",
    "high95_mm",
    "bicycle",
    "verdict",
    "contact_probability",
    "clearance_mm",
    "advice",
    "message",
    "fingerprint",
)
_STATUS, _FINGERPRINT = COLUMNS.index("status"), COLUMNS.index("fingerprint")


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
    def fingerprint(self) -> str:
        """Of the job it answers."""
        return self.cells[_FINGERPRINT]


def measured_row(job: Job, fingerprint: str, inseam: Inseam) -> Row:
    """The inseam, and the best of the bicycles where some are to be judged."""
    low_mm, high_mm = inseam.interval95_mm
    return _row(
        photo=job.name,
        status="measured",
        warnings=_codes(inseam.warnings),
        inseam_mm=tenth(inseam.mean_mm),
        sd_mm=tenth(inseam.sd_mm),
        low95_mm=tenth(low_mm),
        high95_mm=tenth(high_mm),
        message=" ".join(warning.message for warning in inseam.warnings),
        fingerprint=fingerprint,
        **_advice(job, inseam),
    )


def refused_row(job: Job, fingerprint: str, refusal: Refusal) -> Row:
    """Why the photo cannot be measured, and what to change."""
    return _row(
        photo=job.name,
        status="refused",
        reasons=_codes(refusal.reasons),
        message=" ".join((str(refusal), *refusal.remedies)),
        fingerprint=fingerprint,
    )


def failed_row(job: Job, fingerprint: str, reason: Notice) -> Row:
    """What kept the program from measuring the photo; the next run tries it again."""
    return _row(
        photo=job.name,
        status="failed",
        reasons=reason.code,
        message=reason.message,
        fingerprint=fingerprint,
    )


def _advice(job: Job, inseam: Inseam) -> dict[str, str | float]:
    stock = job.stock
    if not stock.bicycles:
        return {}
    rider = Rider.wearing(job.task.stated.soles_mm, skill=stock.skill)
    policy = Policy(stretch=stock.stretch)
    choice = choose(judge(inseam, stock.bicycles, rider=rider, policy=policy))
    if isinstance(choice, NoneFits):
        return {"advice": choice_text(choice)}
    best = choice.best
    return {
        "bicycle": best.bicycle.name,
        "verdict": best.verdict,
        "contact_probability": round(best.probabilities["contact"], 4),
        "clearance_mm": tenth(best.clearance_mm),
        "advice": choice_text(choice),
    }


def _codes(notices: tuple[Notice, ...]) -> str:
    return " ".join(dict.fromkeys(notice.code for notice in notices))


def _row(**values: str | float) -> Row:
    return Row(tuple(_text(values.get(column, "")) for column in COLUMNS))


def _text(value: str | float) -> str:
    # A file's name need not be text that can be written.
    return (
        safe_cell(value.encode("utf-8", "backslashreplace").decode())
        if isinstance(value, str)
        else str(value)
    )
