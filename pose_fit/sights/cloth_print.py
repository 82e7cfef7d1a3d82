"""Is the line between the legs one of many? A print, pleats or folds of a skirt make such lines anywhere.

Where the legs part there is one line: the cloth beside it is plain, or its pattern fainter than the
gap. So lines of the same kind are looked for a little to the left and to the right. Where both sides
show one as strong, and no wall is seen through the gap, the line says nothing of the legs. Nor does a
line that ends only at a hem, where the person is one shape from thigh to shank: a blanket held before
both legs may bear it.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEFT_LEG, RIGHT_LEG, Body
from pose_fit.photo.photo import Photo
from pose_fit.sights.candidates import CrotchCandidate
from pose_fit.sights.leg_patch import LegPatch, bone_columns, leg_patch, patch_colours

__all__ = ["is_one_of_many", "may_be_before_both_legs", "may_be_of_cloth"]

# Parts of the leg, hip to ankle.
#: The upper thighs, where the line between legs is strong and a skirt has not ended.
_ROWS: Final = (0.18, 0.34)
#: The other lines are looked for this far to each side, each within this of its place.
_ASIDE: Final = 0.085
_REACH: Final = 0.025
#: A line differs from what lies this far to both its sides; between the legs it may be a wide gap.
_SIDES: Final = (0.022, 0.04)
_SIDES_OF_GAP: Final = (0.022, 0.04, 0.07, 0.10)
#: A step sideways a row costs this much contrast, in units of CIELAB; beyond the cap it counts no more.
_STEP_COST: Final = 1.5
_CAP: Final = 30.0
#: Both sides as strong as this share of the line: so in 53 of 55 prints laid over rendered legs that
#: gave a line, and in 4 of 134 pictures of trousers, shorts and leggings (first set of worlds).
_AS_STRONG: Final = 0.75
#: Through a gap the person's mask leaves open for this share of the rows, the wall is seen.
_OPEN: Final = 0.30
#: From the thighs to the upper shanks, hip to ankle, and across from one leg to the other: so many rows
#: of the mask are closed where legs are one shape.
_DOWN_THE_LEGS: Final = np.linspace(0.30, 0.62, 17)
_ACROSS: Final = np.linspace(0.1, 0.9, 17)
_CLOSED: Final = 0.9


def may_be_of_cloth(photo: Photo, body: Body, crotches: tuple[CrotchCandidate, ...]) -> bool:
    """Whether the line that gave these candidates may be a cloth's and not the one between the legs."""
    return bool(crotches) and (
        may_be_before_both_legs(photo, body, crotches)
        or is_one_of_many(photo, body, crotches[0].point_px)
    )


def is_one_of_many(photo: Photo, body: Body, line_px: NDArray[np.float64]) -> bool:
    """Whether the cloth beside the line shows lines as strong as the line itself.

    Parameters
    ----------
    line_px
        (2,) array: a place on the line, upright pixels.
    """
    patch = leg_patch(photo, body)
    rows = np.arange(patch.row(_ROWS[0]), patch.row(_ROWS[1]))
    middle = bone_columns(photo, body, patch).mean(axis=0)
    column, row = patch.to_patch(photo.working_px(line_px[None]))[0]
    columns = middle + column - middle[int(np.clip(round(row), 0, patch.height - 1))]
    if _is_open(body, patch, rows, columns):
        return False
    aside = _ASIDE * patch.rows_a_leg
    colours = patch_colours(photo, patch)[rows]
    near, wide = (_contrast(colours, patch, sides) for sides in (_SIDES, _SIDES_OF_GAP))
    left, line, right = (
        _strongest_line(contrast, columns[rows] + by, reach=round(_REACH * patch.rows_a_leg))
        for contrast, by in ((near, -aside), (wide, 0.0), (near, aside))
    )
    return min(left, right) > _AS_STRONG * line


def may_be_before_both_legs(
    photo: Photo, body: Body, crotches: tuple[CrotchCandidate, ...]
) -> bool:
    """Whether every line ends at a hem and the mask shows no gap between the legs down to the shanks."""
    if not crotches or any(one.kind != "hem" for one in crotches):
        return False
    below_knees = 2 * np.clip(_DOWN_THE_LEGS - 0.5, 0.0, None)[:, None]
    above_knees = 2 * np.clip(_DOWN_THE_LEGS, 0.0, 0.5)[:, None]
    left, right = (
        hip + above_knees * (knee - hip) + below_knees * (ankle - knee)
        for hip, knee, ankle in (
            photo.working_px(body.points_px(leg)) for leg in (LEFT_LEG, RIGHT_LEG)
        )
    )
    spots = left[:, None] + (right - left)[:, None] * _ACROSS[:, None]
    rows, columns = np.clip(
        np.round(spots).astype(int)[..., ::-1], 0, np.array(body.mask.shape) - 1
    ).transpose(2, 0, 1)
    return float((body.mask[rows, columns].min(axis=1) >= 0.5).mean()) >= _CLOSED


def _is_open(
    body: Body, patch: LegPatch, rows: NDArray[np.intp], columns: NDArray[np.float64]
) -> bool:
    places = np.clip(np.round(columns[rows]), 0, patch.width - 1).astype(int)
    return float((patch.warp(body.mask)[rows, places] < 0.5).mean()) >= _OPEN


def _contrast(
    colours: NDArray[np.float64], patch: LegPatch, sides: tuple[float, ...]
) -> NDArray[np.float64]:
    """(H, W) by how much a place differs from what lies to both its sides, units of CIELAB."""
    found = []
    for side in sides:
        reach = max(2, round(side * patch.rows_a_leg))
        padded = np.pad(colours, ((0, 0), (reach, reach), (0, 0)), mode="edge")
        left = np.linalg.norm(colours - padded[:, : -2 * reach], axis=2)
        right = np.linalg.norm(colours - padded[:, 2 * reach :], axis=2)
        found.append(np.minimum(left, right))
    contrast: NDArray[np.float64] = np.minimum(np.maximum.reduce(found), _CAP)
    return contrast


def _strongest_line(
    contrast: NDArray[np.float64], columns: NDArray[np.float64], *, reach: int
) -> float:
    """Mean contrast along the strongest connected line within ``reach`` of each row's column."""
    places = np.round(columns)[:, None] + np.arange(-reach, reach + 1)
    inside = np.clip(places, 0, contrast.shape[1] - 1).astype(int)
    band = np.take_along_axis(contrast, inside, axis=1)
    total = band[-1]
    for values in band[-2::-1]:
        beyond = np.pad(total, 1, constant_values=-np.inf)
        sideways = np.maximum(beyond[:-2], beyond[2:]) - _STEP_COST
        total = values + np.maximum(total, sideways)
    return float(total.max()) / len(band)
