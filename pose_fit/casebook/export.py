"""Cases as a table for spreadsheets, in which nothing that somebody typed is a formula."""

from collections.abc import Iterable
from typing import Final

from pose_fit.casebook.case import Case
from pose_fit.casebook.clue import Clue, LiftClue, RemarkClue, StatedClue, TapeClue, TrousersClue
from pose_fit.files.csv_export import Cell, csv_bytes
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Refusal

__all__ = ["COLUMNS", "cases_csv"]

COLUMNS: Final = (
    "case",
    "state",
    "label",
    "received_utc",
    "changed_utc",
    "waiting_since_utc",
    "needed_on",
    "age_y",
    "sex",
    "stature_mm",
    "estimate_method",
    "estimate_mm",
    "estimate_sd_mm",
    "estimate_low95_mm",
    "estimate_high95_mm",
    "warnings",
    "refusal",
    "clues",
    "answer_mm",
    "answer_sd_mm",
    "decided_by",
    "decided_utc",
    "note",
    "pictures_kept",
    "version",
)


def cases_csv(cases: Iterable[Case]) -> bytes:
    """The cases as comma-separated values, one a row under :data:`COLUMNS`.

    Moments are UTC.
    """
    rows = ((*_facts(case), *_estimate(case), *_decision(case)) for case in cases)
    return csv_bytes(COLUMNS, rows)


def _facts(case: Case) -> tuple[Cell, ...]:
    content, child = case.content, case.content.child
    return (
        case.case_id,
        case.state,
        content.label,
        f"{case.received_at:%Y-%m-%d %H:%M:%S}",
        f"{case.changed_at:%Y-%m-%d %H:%M:%S}",
        f"{case.waiting_since:%Y-%m-%d %H:%M:%S}",
        None if content.needed_on is None else content.needed_on.isoformat(),
        child.age_y,
        child.sex,
        child.stature_mm,
    )


def _estimate(case: Case) -> tuple[Cell, ...]:
    clues = "; ".join(_clue_text(clue) for clue in case.content.clues)
    match case.content.estimate:
        case Refusal() as refusal:
            return (None, None, None, None, None, None, str(refusal), clues)
        case Inseam() as inseam:
            low_mm, high_mm = inseam.interval95_mm
            return (
                inseam.method,
                round(inseam.mean_mm, 1),
                round(inseam.sd_mm, 2),
                round(low_mm, 1),
                round(high_mm, 1),
                " ".join(warning.message for warning in inseam.warnings),
                None,
                clues,
            )


def _decision(case: Case) -> tuple[Cell, ...]:
    answer, decision = case.content.answer, case.content.decision
    return (
        None if answer is None else round(answer.mean_mm, 1),
        None if answer is None else round(answer.sd_mm, 2),
        None if decision is None else decision.by,
        None if decision is None else f"{decision.at:%Y-%m-%d %H:%M:%S}",
        None if decision is None else decision.words,
        len(case.pictures),
        case.version,
    )


def _clue_text(clue: Clue) -> str:
    match clue:
        case TapeClue(readings_mm=readings_mm):
            return "tape " + ", ".join(both_units(reading_mm) for reading_mm in readings_mm)
        case TrousersClue(inside_seam_mm=inside_seam_mm):
            return f"trousers, inside seam {both_units(inside_seam_mm)}"
        case LiftClue(standover_mm=standover_mm, lift_mm=lift_mm, lifted=lifted):
            how = "whole" if lifted == "whole" else "front wheel"
            return (
                f"bicycle with a standover of {both_units(standover_mm)}, lifted ({how})"
                f" {both_units(lift_mm)}"
            )
        case StatedClue(source=source, inseam=inseam):
            return f"{source}: {both_units(inseam.mean_mm)}"
        case RemarkClue(text=text):
            return text
