"""Crotch, toes and wall base of standing people in the real pictures, clicked twice each.

Clicked by one reader by eye, from crops of the picture with a grid of pixels; the second time from
other crops, in another order and without sight of the first. A crotch is where the legs visibly
part, so the cloth's; a toe is the foot's lowest point. What the reader could not see is empty.
"""

import csv
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.real.pictures import Picture, pictures

__all__ = ["Clicked", "clicked_people"]

#: Columns of each point; NaN in the arrays where they are empty.
_CROTCH: Final = ("crotch_x", "crotch_y")
_TOES: Final = (("left_toe_x", "left_toe_y"), ("right_toe_x", "right_toe_y"))


@dataclass(frozen=True, slots=True, eq=False)
class Clicked:
    """One person, in pixels of the whole upright picture; NaN where a sight is not seen.

    Attributes
    ----------
    box_px
        Left, top, right and bottom of the part of the picture with this person.
    crotch_px
        (2, 2) array: by time, x and y.
    toes_px
        (2, 2, 2) array: by time, left and right in the picture, x and y.
    base_y_px
        (2,) array: by time, height of the wall base straight behind the feet.
    """

    picture: Picture
    box_px: tuple[int, int, int, int]
    crotch_px: NDArray[np.float64]
    toes_px: NDArray[np.float64]
    base_y_px: NDArray[np.float64]


@cache
def clicked_people() -> tuple[Clicked, ...]:
    """Everybody who was clicked, in the file's order."""
    with Path(__file__).with_name("clicks.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    known = {(picture.repository, picture.path): picture for picture in pictures()}
    people = []
    for (repository, path, *box), both in groupby(
        rows, key=lambda row: tuple(row[name] for name in _PERSON)
    ):
        times = sorted(both, key=lambda row: row["time"])
        if [row["time"] for row in times] != ["1", "2"]:
            raise ValueError(f"clicks.csv: wanted two times of {path}, found {len(times)} rows")
        left, top, right, bottom = map(int, box)
        people.append(
            Clicked(
                known[repository, path],
                (left, top, right, bottom),
                np.array([[_number(row[name]) for name in _CROTCH] for row in times]),
                np.array(
                    [[[_number(row[name]) for name in toe] for toe in _TOES] for row in times]
                ),
                np.array([_number(row["base_y"]) for row in times]),
            )
        )
    return tuple(people)


_PERSON: Final = ("repository", "path", "left", "top", "right", "bottom")


def _number(text: str) -> float:
    return float(text) if text else np.nan
