"""What the family states about the child: everything optional, checked once."""

from dataclasses import dataclass

from pose_fit.anthropometry.known_ranges import Sex, check_age_y, check_sex, check_stature_mm

__all__ = ["Child"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Child:
    """Age in years, sex ``f`` or ``m``, stature in millimetres; None where nobody said.

    Raises
    ------
    PersonError
        A value outside what the tables know.
    """

    age_y: float | None = None
    sex: Sex | None = None
    stature_mm: float | None = None

    def __post_init__(self) -> None:
        check_sex(self.sex)
        if self.age_y is not None:
            check_age_y(self.age_y)
        if self.stature_mm is not None:
            check_stature_mm(self.stature_mm)
