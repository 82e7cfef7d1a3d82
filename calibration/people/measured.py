"""The measured people in millimetres, with what was not measured derived from what was."""

from pathlib import Path

import pandas as pd

DATA = Path(__file__).parents[1] / "data"

CHILDREN = "children of 1977 (UM-HSRI-77-17)"

#: The anterior superior iliac spine was not measured; it lies between iliac crest and
#: trochanterion. One third of the way down makes the derived crotch height .91-.92 of the hip
#: joint height by Hara's equation; with one half, trochanterion and hip joint are level.
CREST_TO_SPINE_SHARE = 1 / 3
#: Knee joint centre (level of the femoral epicondyles) over tibiale height: adults of 2012,
#: 5 % in men and 6 % in women.
EPICONDYLE_OVER_TIBIALE = 1.056


def children() -> pd.DataFrame:
    """Children of 2 to 18 y in millimetres, with derived crotch and hip joint heights."""
    raw = pd.read_csv(DATA / "children_1977.csv")
    raw = raw[(raw.age_y >= 2) & (raw.age_y < 18)].reset_index(drop=True)
    people = pd.DataFrame({"person": raw.person, "sex": raw.sex.str.lower(), "age_y": raw.age_y})
    for column in raw.columns:
        if column.endswith("_cm"):
            people[column.removesuffix("_cm")] = raw[column] * 10
    share = people.sex.map(adult_crotch_share())
    people["inseam"] = people.stature - people.sitting_height + share * people.stature
    spine = people.iliocristale_height - CREST_TO_SPINE_SHARE * (
        people.iliocristale_height - people.trochanteric_height
    )
    # Hara et al. 2016: 9 + 0.078 leg lengths below the anterior superior iliac spines.
    people["hip_by_spine"] = spine - 9 - 0.078 * (spine - people.sphyrion_height)
    people["hip_by_trochanter"] = people.trochanteric_height
    people["hip"] = (people.hip_by_spine + people.hip_by_trochanter) / 2
    people["knee"] = EPICONDYLE_OVER_TIBIALE * people.tibiale_height
    people["hip_to_ankle"] = people.hip - people.sphyrion_height
    return people


def adult_crotch_share() -> dict[str, float]:
    """Measured adults: (crotch height - subischial height) / stature, mean by sex.

    Used for children for want of measured ones.
    """
    adults = pd.read_csv(DATA / "adults_2012.csv")
    subischial = adults.stature_cm - adults.sitting_height_cm
    share = (adults.crotch_height_cm - subischial) / adults.stature_cm
    return {
        str(sex).lower(): float(value) for sex, value in share.groupby(adults.sex).mean().items()
    }


def is_scored(people: pd.DataFrame) -> pd.Series:
    """Every third person by number is never fitted."""
    return people.person % 3 == 0
