"""The one drawing of a child with a bicycle: standing over it, or seated where it has no pedals."""

from pose_fit.drawing.child_on_bicycle import standing_svg
from pose_fit.drawing.child_pushing import pushing_svg
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.drawing.figure import figure
from pose_fit.fit.judge import Fit
from pose_fit.metrology.units import Unit
from pose_fit.refusal import Refusal

__all__ = ["bicycle_svg"]


def bicycle_svg(fit: Fit, *, unit: Unit = "in", texts: DrawingTexts = ENGLISH) -> str | Refusal:
    """An SVG text to scale; refused where the catalogue lacks a length that it needs."""
    if not fit.bicycle.pedals:
        return pushing_svg(fit, unit=unit, texts=texts)
    shape = figure(fit.inseam.mean_mm, fit.bicycle, rider=fit.rider)
    if isinstance(shape, Refusal):
        return shape
    return standing_svg(shape, fit, unit=unit, texts=texts)
