"""Children whose body measures were taken together, so that proportions come as people have them."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

__all__ = ["MOST_AGE_Y", "Proportions", "draw_proportions"]

#: The bench is about children of 2 to 14 years.
MOST_AGE_Y: Final = 13.95
#: Hip joint over crotch, beyond which a derived crotch height is a measuring error rather
#: than a person (in millimetres, and as a share of the crotch height).
_HIP_OVER_CROTCH: Final = (22.0, 0.17)
#: Standing measures repeat within about this share of stature from one day to the next
#: (judgement); it also keeps two draws of one child from being the same body.
_REPEAT_SHARE: Final = 0.004


@dataclass(frozen=True, slots=True)
class Proportions:
    """One child's heights above the bare soles and foot length, millimetres."""

    sex: Literal["f", "m"]
    age_years: float
    stature_mm: float
    inseam_mm: float
    hip_mm: float
    knee_mm: float
    ankle_mm: float
    foot_length_mm: float

    def __post_init__(self) -> None:
        levels = (0.0, self.ankle_mm, self.knee_mm, self.inseam_mm, self.hip_mm, self.stature_mm)
        if not all(low < high for low, high in zip(levels, levels[1:], strict=False)):
            raise ValueError(
                "heights wanted in the order ankle < knee < inseam < hip < stature;"
                f" found {levels[1:]}"
            )


def draw_proportions(count: int, *, seed: int) -> list[Proportions]:
    """Measured children drawn whole, evenly over their ages, each a little varied.

    Crotch height is derived, hip joint height the mean of two derivations
    (:mod:`calibration.people.measured`); knee and ankle joint stand at the femoral epicondyles and
    the tip of the medial malleolus.
    """
    from calibration.people.measured import children

    people = children()
    people = people[people.age_y < MOST_AGE_Y]
    people = people.dropna(
        subset=["stature", "inseam", "hip", "knee", "sphyrion_height", "foot_length"]
    )
    over = people.hip - people.inseam
    low, share = _HIP_OVER_CROTCH
    people = people[(over > low) & (over < share * people.inseam)].reset_index(drop=True)
    rng = np.random.default_rng(seed)
    ages = rng.permutation(np.linspace(2.2, MOST_AGE_Y - 0.1, count))
    drawn = []
    for age in ages:
        near = np.flatnonzero(np.abs(people.age_y - age) < 0.5)
        one = people.iloc[int(rng.choice(near))]

        def varied(value: float, rng: np.random.Generator = rng) -> float:
            return round(float(value * (1 + rng.normal(0, _REPEAT_SHARE))), 1)

        drawn.append(
            Proportions(
                sex="f" if one.sex == "f" else "m",
                age_years=round(float(one.age_y), 2),
                stature_mm=varied(one.stature),
                inseam_mm=varied(one.inseam),
                hip_mm=varied(one.hip),
                knee_mm=varied(one.knee),
                ankle_mm=varied(one.sphyrion_height),
                foot_length_mm=varied(one.foot_length),
            )
        )
    return drawn
