"""What the pictures gave: the estimate, or why there is none, and the picture with its marks."""

from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.app.family.together import combined_photos
from pose_fit.app.inputs.correcting import offer_correcting
from pose_fit.app.inputs.which_child import offer_choosing
from pose_fit.app.inputs.worn import offer_heels
from pose_fit.app.measuring import Outcome
from pose_fit.app.style import inline_svg, picture
from pose_fit.app.views.estimate_view import show_value
from pose_fit.app.views.messages import plain, show_notices, show_refusal
from pose_fit.drawing.overlay import overlay_picture
from pose_fit.errors import ReferenceObjectError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Refusal

__all__ = ["marks_in_words", "show_legend", "show_marks", "show_photo_estimate"]

_LEGEND: Final = (
    ("#ffc400", "circle", "hip, knee and ankle"),
    ("#00c8ff", "cross", "object of known size"),
    ("#3cdc78", "line", "floor"),
    ("#ff5aa0", "band", "crotch line and where it is 19 times in 20"),
)


def show_photo_estimate(page: str, outcomes: Sequence[Outcome]) -> Inseam | None:
    """The estimate from all pictures, refusals and faults said; None where none was measured."""
    measured = [
        outcome.result for outcome in outcomes if isinstance(outcome.result, PhotoMeasurement)
    ]
    for outcome in outcomes:
        if isinstance(outcome.result, Refusal):
            show_refusal(outcome.result, title=f"{outcome.shot.name} cannot be measured")
        elif isinstance(outcome.result, ReferenceObjectError):
            st.warning(plain(str(outcome.result)), icon=":material/ads_click:")
    results = [outcome.result for outcome in outcomes]
    offer_heels(page, [result for result in results if isinstance(result, Refusal)])
    inseam = combined_photos([measurement.inseam for measurement in measured])
    if inseam is not None:
        show_value(inseam)
        if len(measured) > 1:
            singles = ", ".join(both_units(one.inseam.mean_mm) for one in measured)
            st.caption(f"From {len(measured)} pictures: {singles}.")
        show_notices(inseam.warnings)
    return inseam


def show_marks(outcomes: Sequence[Outcome]) -> None:
    """Each measured picture, face hidden, with its marks, and what can be put right in it."""
    for outcome in outcomes:
        result = outcome.result
        if isinstance(result, PhotoMeasurement):
            picture(overlay_picture(result), alt=marks_in_words(outcome.shot.name, result))
            show_legend()
            st.caption("Is the object marked wrongly? Switch on “Mark it by hand” above.")
        if not isinstance(result, ReferenceObjectError):
            offer_choosing(outcome.shot, result)
            offer_correcting(outcome.shot, result)


def marks_in_words(name: str, result: PhotoMeasurement) -> str:
    """The marks for those who do not see them."""
    seen = "seen" if result.sights.crotch is not None else "not seen, taken from the joints"
    return (
        f"{name} with marks, face hidden: hips, knees and ankles joined by lines; the"
        f" {result.sights.reference.kind} marked by crosses; a line at the floor; a line at the crotch,"
        f" {both_units(result.inseam.mean_mm)} above it, with a band for its interval. Where the"
        f" legs part was {seen}."
    )


def show_legend() -> None:
    """What each mark is."""
    items = "".join(
        f"<li>{inline_svg(_sign(shape, colour))}{words}</li>" for colour, shape, words in _LEGEND
    )
    st.html(f'<ul class="pf-legend">{items}</ul>')


def _sign(shape: str, colour: str) -> str:
    size = 'xmlns="http://www.w3.org/2000/svg" width="20" height="14"'
    return f"<svg {size}>{_shape(shape, colour)}</svg>"


def _shape(shape: str, colour: str) -> str:
    edge = 'stroke="#17252b" stroke-width=".8"'
    match shape:
        case "circle":
            return f'<circle cx="10" cy="7" r="5" fill="{colour}" {edge}/>'
        case "cross":
            return (
                '<path d="M4 7H16M10 1V13" stroke="#17252b" stroke-width="4"/>'
                f'<path d="M4 7H16M10 1V13" stroke="{colour}" stroke-width="2.4"/>'
            )
        case "line":
            return f'<rect x="1" y="5" width="18" height="4" fill="{colour}" {edge}/>'
    return (
        f'<rect x="1" y="1" width="18" height="12" fill="{colour}" fill-opacity=".4" {edge}/>'
        f'<rect x="1" y="5.5" width="18" height="3" fill="{colour}"/>'
    )
