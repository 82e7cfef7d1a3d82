"""Inseam from the age alone: the last resort."""

from pose_fit.anthropometry.inseam_norms import inseam_at_age
from pose_fit.anthropometry.known_ranges import Sex
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.refusal import Notice

__all__ = ["inseam_from_age"]


def inseam_from_age(age_y: float, *, sex: Sex | None = None) -> Inseam:
    """The inseam of children of this age.

    Parameters
    ----------
    age_y
        Years, with decimals.
    sex
        ``f``, ``m``, or None for a mixture of both.

    Raises
    ------
    PersonError
        Age outside 2 to 18 y, unknown sex.
    """
    group = inseam_at_age(age_y, sex=sex)
    budget = (
        Contribution("stature differs between children of one age", group.stature_sd_mm, True),
        Contribution(
            "leg length differs between children of one stature", group.leg_sd_mm, shared=True
        ),
        Contribution("statures differ between countries", group.population_sd_mm, shared=True),
        Contribution(
            "what is known of children's proportions", group.proportions_sd_mm, shared=True
        ),
    )
    return Inseam(
        UncertainLength(group.mean_mm, budget),
        "age",
        warnings=(
            Notice(
                "inseam_from_age",
                f"Children of {age_y:.3g} years differ widely in leg length; this is their"
                " middle, not this child's inseam.",
            ),
        ),
        retake=(
            "Measure the inseam with a tape and a book, or send a photo.",
            "Give the child's standing height.",
        ),
    )
