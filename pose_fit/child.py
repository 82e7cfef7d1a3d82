"""What the family says of the child: everything optional, checked once."""

from dataclasses import dataclass

from pose_fit.anthropometry.person import check_age_y, check_sex, check_stature_mm
from pose_fit.anthropometry.plausibility import (
    Plausibility,
    plausibility_at_age,
    plausibility_at_stature,
)
from pose_fit.inseam.inseam import Inseam

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
    sex: str | None = None
    stature_mm: float | None = None

    def __post_init__(self) -> None:
        check_sex(self.sex)
        if self.age_y is not None:
            check_age_y(self.age_y)
        if self.stature_mm is not None:
            check_stature_mm(self.stature_mm)

    def plausibilities(self, inseam: Inseam) -> tuple[Plausibility, ...]:
        """The inseam against children of the same stature and of the same age, where given."""
        judged = []
        if self.stature_mm is not None:
            judged.append(
                plausibility_at_stature(
                    inseam.mean_mm, sd_mm=inseam.sd_mm, stature_mm=self.stature_mm, sex=self.sex
                )
            )
        if self.age_y is not None:
            judged.append(
                plausibility_at_age(
                    inseam.mean_mm, sd_mm=inseam.sd_mm, age_y=self.age_y, sex=self.sex
                )
            )
        return tuple(judged)
