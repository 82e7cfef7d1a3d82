"""Sizes of paper."""

from typing import Final, Literal

from pose_fit.errors import InputError

__all__ = ["PAPER_SD_MM", "PAPER_SIZE_MM", "Paper", "paper_size_mm"]

Paper = Literal["letter", "a4"]

#: Width and height in millimetres: ANSI/ASME Y14.1 size A; ISO 216.
PAPER_SIZE_MM: Final[dict[str, tuple[float, float]]] = {
    "letter": (215.9, 279.4),
    "a4": (210.0, 297.0),
}
#: How true a side of cut paper is (from memory). ISO 216 allows more: 1.5 mm on sides up to 150 mm
#: and 2 mm on those up to 600 mm.
PAPER_SD_MM: Final = 0.5


def paper_size_mm(paper: str) -> tuple[float, float]:
    """Width and height of a paper.

    Raises
    ------
    InputError
        Another paper than those printed on.
    """
    if paper not in PAPER_SIZE_MM:
        raise InputError(f"unknown paper {paper!r}; wanted one of {', '.join(PAPER_SIZE_MM)}")
    return PAPER_SIZE_MM[paper]
