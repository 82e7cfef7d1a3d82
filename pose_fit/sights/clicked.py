"""Crotch and floor where a person clicked them, in place of what was found in the picture."""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.errors import InputError
from pose_fit.photo.click_error import ON_BODY_SD_LEGS
from pose_fit.photo.photo import Photo, Place
from pose_fit.refusal import Notice, Refusal
from pose_fit.sights.candidates import CrotchCandidate, ToesCandidate

__all__ = ["check_clicks", "clicked_crotch", "clicked_toes"]

#: Where no line between the legs is to be seen, a person guesses the crotch through the cloth this
#: well, in legs: some 25 mm on a child of eight (common practice, no source).
GUESS_SD_PART: Final = 0.045
#: A crotch and a sole lie at these parts of the way from hips to ankles, and this near to it.
_CROTCH_PARTS: Final = (-0.05, 0.50)
_FLOOR_PARTS: Final = (0.97, 1.45)
_ASIDE_PARTS: Final = 0.60


def check_clicks(
    photo: Photo, body: Body, *, crotch_px: Place | None, floor_px: Place | None
) -> Refusal | None:
    """A refusal where a click lies on no crotch or floor of this body, else None.

    Raises
    ------
    InputError
        A click outside the picture.
    """
    reasons = []
    if crotch_px is not None and not _is_at(photo, body, "crotch", crotch_px, _CROTCH_PARTS):
        reasons.append(
            Notice(
                "crotch_click_elsewhere",
                "The point for the crotch is not between the hips and knees.",
            )
        )
    if floor_px is not None and not _is_at(photo, body, "floor", floor_px, _FLOOR_PARTS):
        reasons.append(
            Notice(
                "floor_click_elsewhere", "The point for the floor is not at the tip of the toes."
            )
        )
    if not reasons:
        return None
    return Refusal(tuple(reasons), ("Point at it again, or leave the point out.",))


def clicked_crotch(
    body: Body, crotch_px: Place, *, seen: tuple[CrotchCandidate, ...]
) -> tuple[CrotchCandidate, ...]:
    """The crotch where it was clicked, as unsure as the click and what there is to be seen.

    Parameters
    ----------
    seen
        What was found without the click: the end of a blurred line is no sharper for being
        clicked, and without a line the click is a guess through the cloth.
    """
    sight_sd_px = seen[0].edge_sd_px if seen else GUESS_SD_PART * body.leg_px
    clicked = CrotchCandidate(
        point_px=np.array(crotch_px, float),
        edge_sd_px=math.hypot(ON_BODY_SD_LEGS * body.leg_px, sight_sd_px),
        weight=1.0,
        kind="click" if seen else "guess",
    )
    return (clicked,)


def clicked_toes(floor_px: Place) -> tuple[ToesCandidate, ...]:
    """The place where the tip of the toes meets the floor, for both feet."""
    return (ToesCandidate(np.array([floor_px] * 2, float), weight=1.0, is_clicked=True),)


def _is_at(
    photo: Photo, body: Body, name: str, place_px: Place, parts: tuple[float, float]
) -> bool:
    place: NDArray[np.float64] = np.array(place_px, float)
    limits = np.array([photo.width_px, photo.height_px], float)
    if place.shape != (2,) or not ((place >= -0.5) & (place <= limits)).all():
        raise InputError(
            f"{name}: wanted a place in the picture of {photo.width_px} by {photo.height_px}"
            f" pixels, found {place_px}"
        )
    along = (body.ankles_px - body.hips_px) / body.leg_px
    way = (place - body.hips_px) / body.leg_px
    aside = abs(float(along[0] * way[1] - along[1] * way[0]))
    return parts[0] <= float(way @ along) <= parts[1] and aside <= _ASIDE_PARTS
