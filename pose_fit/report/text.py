"""Results as plain text that a parent can read, inches and centimetres side by side."""

from pose_fit.inseam.inseam import Inseam, Method
from pose_fit.measure import PhotoMeasurement
from pose_fit.metrology.units import both_units, inches_text
from pose_fit.refusal import Refusal

__all__ = ["inseam_lines", "measured_lines", "refused_lines"]

_BY: dict[Method, str] = {
    "photo": "by photo",
    "tape": "by tape",
    "trousers": "from trousers",
    "lift": "from lifting a bicycle",
    "stature": "guessed from the body height",
    "age": "guessed from the age",
    "combined": "from all that was given",
    "stated": "as stated",
}


def inseam_lines(inseam: Inseam) -> list[str]:
    """The value, its interval, what makes it unsure, warnings and advice."""
    low_mm, high_mm = inseam.interval95_mm
    lines = [
        f"Inseam {_BY[inseam.method]}: {both_units(inseam.mean_mm)}",
        f"  19 times in 20 it is between {both_units(low_mm)} and {both_units(high_mm)}.",
        f"  What leaves it unsure most: {inseam.length.largest.source}.",
    ]
    lines += [f"  Note: {warning.message}" for warning in inseam.warnings]
    lines += [f"  For a better value: {advice}" for advice in inseam.retake]
    return lines


def measured_lines(name: str, measurement: PhotoMeasurement) -> list[str]:
    """One measured photo."""
    reading = measurement.reading
    lines = [f"{name}", *inseam_lines(measurement.inseam)]
    crotch, legs = reading.best("crotch"), reading.best("legs")
    if crotch and legs:
        lines.append(
            f"  The hips say {inches_text(legs.value_mm)}, the place where the legs part says"
            f" {inches_text(crotch.value_mm)}."
        )
    return lines


def refused_lines(name: str, refusal: Refusal) -> list[str]:
    """One photo that cannot be measured."""
    return [
        f"{name}",
        "Not measured.",
        *(f"  Why: {reason.message}" for reason in refusal.reasons),
        *(f"  Instead: {remedy}" for remedy in refusal.remedies),
        "  Or measure with a tape: book between the legs, tape from its top edge to the floor.",
    ]
