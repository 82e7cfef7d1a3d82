"""The crotch in the picture: the top of the line along which the legs part.

The pose model's mask is coarse (some five working pixels a cell) and sees no crotch
where the thighs touch. But the line between the legs stays visible above the open
gap as a crease: along it the middle differs from both sides, be it wall, shadow or
fold, and at the crotch that difference begins to fade. The line is followed upward
between the legs by dynamic programming (Bellman 1957) at the working resolution.
A line may fade twice, or run into the hem of a shirt: each end is a candidate.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.sights.candidates import CrotchCandidate, CrotchKind
from pose_fit.sights.leg_patch import LegPatch, bone_columns, leg_patch, patch_colours

__all__ = ["SEARCHED_PART", "find_crotch"]

# All parts are parts of the leg, hip to ankle.
#: The line is followed this near the middle along the thighs, where it surely is; from there
#: it goes on straight up to the hips, and its end is looked for in a tube around it. In people
#: the crotch lies a sixteenth of the hips' height below them or more: no end above this counts.
_THIGHS: Final = (0.20, 0.46)
_BAND: Final = 0.11
_STRAIGHT_FROM: Final = (0.20, 0.34)
_HIPS: Final = -0.04
_HIGHEST_END: Final = 0.045
_TUBE: Final = 0.014
#: Distances from the middle to the cloth or skin it is compared with. The line is narrow where
#: it ends, so the nearest distance tells its end; the others follow it down the open gap.
_NEAR_SIDE: Final = 0.04
_SIDES: Final = (0.022, 0.04, 0.07, 0.10, 0.14)
#: Cloth this far to each side of the line shows its own mottling.
_ASIDE: Final = 0.06
#: A step sideways a row costs this much contrast; contrast beyond the cap counts no more.
_STEP_COST: Final = 1.5
_CAP: Final = 18.0
#: The line's usual contrast is taken here; below this, in units of CIELAB, there is none.
_USUAL: Final = (0.18, 0.34)
_LEAST_CONTRAST: Final = 6.5
#: A line is of one kind along its length, all shadow, all crease or all wall: where it differs from
#: what lies beside it now one way and now another, it is a cloth's pattern. Mean difference over
#: root mean square; a gap through which the mask sees the wall is none of the cloth's.
_ONE_KIND: Final = 0.60
_BESIDE: Final = (0.022, 0.04, 0.07)
_OPEN: Final = 0.30
#: It goes on while its contrast stays above this share of the usual, breaks of this part of a
#: leg forgiven.
_GOES_ON: Final = 0.3
_BREAK: Final = 0.03
#: Its end is near where the near contrast falls below this share of its own peak, within these
#: bounds; it stays below for this part of a leg.
_SHARE_OF_PEAK: Final = 0.45
_LEVEL: Final = (3.5, 10.0)
_ENDED: Final = 0.008
#: The end itself is looked for within these parts above and below that, with ramps of these
#: lengths and a plateau of at least that length and rise; contrast beyond the cap counts no more.
_SHOULDER_WITHIN: Final = (0.06, 0.09)
_RAMPS: Final = (0.010, 0.015, 0.025, 0.040, 0.060)
_LEAST_PLATEAU: Final = 0.02
_LEAST_RISE: Final = 2.0
_SHOULDER_CAP: Final = 24.0
#: Fits whose squared misfit is this share above the best count a third as much.
_AS_GOOD: Final = 0.1
#: The hem of shirt or jumper is the lowest sharp change of colour down both thighs above this.
_HEM_ABOVE: Final = 0.22
_HEM_STEP: Final = 9.0
_HEM_NEAR: Final = (0.004, 0.018)
_HEM_SLANT: Final = 0.03
#: A line that ends this near the hem runs into it. The crotch is hidden as a rule, so far above
#: the hem (mean and standard uncertainty in rendered worlds).
_NEAR_HEM: Final = 0.01
_ABOVE_HEM: Final = (0.085, 0.06)

#: The candidates are looked for along this part of a leg.
SEARCHED_PART: Final = _USUAL[1] - _HIGHEST_END
#: Other ends are looked for where the near contrast falls below these shares of its peak.
_OTHER_SHARES: Final = (0.2, 0.75)
#: Ends nearer to each other than this part of a leg are one.
_SAME_END: Final = 0.025
#: Shares of belief in the end by the rule above and in all other ends together, by whether there
#: are others; the rest says that no end is the crotch. As often as it was so in rendered worlds.
_LINE_ALONE: Final = 0.80
_LINE_FIRST: Final = (0.60, 0.25)
_HEM_ALONE: Final = 0.90
_HEM_FIRST: Final = (0.55, 0.30)


def find_crotch(photo: Photo, body: Body) -> tuple[CrotchCandidate, ...]:
    """Ends of the line between the legs, the likeliest first; none where there is no line."""
    patch = leg_patch(photo, body)
    columns = bone_columns(photo, body, patch)
    colours = patch_colours(photo, patch)
    contrasts = [_contrast_map(patch, colours, columns, side) for side in _SIDES]
    contrast = np.maximum.reduce(contrasts)
    first = patch.row(_HIPS)
    path = _seam(contrast, columns.mean(axis=0), patch)
    near_map = contrasts[_SIDES.index(_NEAR_SIDE)]
    aside = round(_ASIDE * patch.rows_a_leg)
    cloth = np.concatenate([_along(near_map, path + by, patch) for by in (-aside, aside)])
    if not _is_of_one_kind(colours, path, patch) and not _is_open(body, path, patch):
        return ()
    line = _Line(
        along=_along(contrast, path, patch),
        near=_along(near_map, path, patch),
        mottling=float(np.quantile(cloth, 0.75)),
        hem=_hem_row(colours, columns, patch) - first,
    )
    scale = float(np.hypot(*patch.to_picture[:, 1])) * photo.working_scale

    def candidate(end: _End, weight: float) -> CrotchCandidate:
        place = np.array([[float(path[round(end.row)]), first + end.row]])
        point_px = photo.upright_px(patch.from_patch(place))[0]
        return CrotchCandidate(point_px, end.sd_rows * scale, weight, end.kind)

    return tuple(candidate(end, weight) for end, weight in _weighed_ends(line, patch))


def _contrast_map(
    patch: LegPatch,
    colours: NDArray[np.float64],
    columns: NDArray[np.float64],
    side: float,
) -> NDArray[np.float64]:
    """(H, W) by how much a place between the bones differs from the leg on both its sides.

    It is compared with what lies this part of the leg away, never beyond the bones: a whole
    leg before a wall is no line.
    """
    left, right = np.sort(columns, axis=0)
    across = np.arange(patch.width)
    to_bones = np.minimum(across - left[:, None], right[:, None] - across)
    reach = max(2, round(side * patch.rows_a_leg))
    padded = np.pad(colours, ((0, 0), (reach, reach), (0, 0)), mode="edge")
    steps = np.stack([colours - padded[:, : -2 * reach], colours - padded[:, 2 * reach :]])
    squared = np.einsum("sijk,sijk->sij", steps, steps).min(axis=0)
    return np.asarray(np.where(to_bones >= reach, np.sqrt(squared), 0.0), float)


def _seam(
    contrast: NDArray[np.float64], middle: NDArray[np.float64], patch: LegPatch
) -> NDArray[np.intp]:
    """(N,) column of the line in each row from the hips to the lower thighs."""
    hips, top, bottom = patch.row(_HIPS), patch.row(_THIGHS[0]), patch.row(_THIGHS[1])
    thighs = _follow(contrast, middle, patch, top, bottom)
    rows = np.arange(top, bottom)
    straight = rows < patch.row(_STRAIGHT_FROM[1])
    slope, base = np.polyfit(rows[straight], thighs[straight], 1)
    above = np.round(base + slope * np.arange(hips, top)).astype(int)
    return np.asarray(np.clip(np.concatenate([above, thighs]), 0, patch.width - 1), np.intp)


def _along(
    contrast: NDArray[np.float64], path: NDArray[np.intp], patch: LegPatch
) -> NDArray[np.float64]:
    """(N,) contrast along the line, the best within the tube around it."""
    reach = max(1, round(_TUBE * patch.rows_a_leg))
    rows = np.arange(patch.row(_HIPS), patch.row(_HIPS) + len(path))
    offsets = np.arange(-reach, reach + 1)
    columns = np.clip(path[:, None] + offsets, 0, patch.width - 1)
    return np.asarray(contrast[rows[:, None], columns].max(axis=1), float)


def _is_of_one_kind(colours: NDArray[np.float64], path: NDArray[np.intp], patch: LegPatch) -> bool:
    """Whether the line differs from what lies beside it in one way, where it surely is."""
    part, columns = _usual_part(path, patch)
    rows = part + patch.row(_HIPS)
    kinds = []
    for beside in _BESIDE:
        reach = max(1, round(beside * patch.rows_a_leg))
        left, middle, right = (
            colours[rows, np.clip(columns + by, 0, patch.width - 1)] for by in (-reach, 0, reach)
        )
        differs = middle - (left + right) / 2
        size = float(np.sqrt((differs**2).sum(axis=1).mean()))
        kinds.append(float(np.linalg.norm(differs.mean(axis=0))) / max(size, 1e-6))
    return float(np.median(kinds)) >= _ONE_KIND


def _is_open(body: Body, path: NDArray[np.intp], patch: LegPatch) -> bool:
    """Whether the person's mask leaves a gap along the line."""
    part, columns = _usual_part(path, patch)
    mask = patch.warp(body.mask)[part + patch.row(_HIPS), columns]
    return float((mask < 0.5).mean()) >= _OPEN


def _usual_part(
    path: NDArray[np.intp], patch: LegPatch
) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Places along the line at the upper thighs, and their columns."""
    top, bottom = (patch.row(share) - patch.row(_HIPS) for share in _USUAL)
    part = np.arange(top, bottom)
    return part, path[part]


def _hem_row(colours: NDArray[np.float64], columns: NDArray[np.float64], patch: LegPatch) -> int:
    """Lowest row above the mid-thighs where both thighs change colour; 0 if none does."""
    near, far = (max(1, round(part * patch.rows_a_leg)) for part in _HEM_NEAR)
    # In a very small picture both round to the same row.
    far = max(far, near + 1)
    bottom = patch.row(_HEM_ABOVE)
    rows = np.arange(far, bottom)
    steps = np.zeros((2, bottom))
    for side, bone in enumerate(columns):
        inside = np.clip(np.round(bone), 0, patch.width - 1).astype(int)
        along = colours[np.arange(len(bone)), inside]
        sums = np.cumsum(np.vstack([np.zeros(3), along]), axis=0)
        above = sums[rows - near] - sums[rows - far]
        below = sums[rows + far] - sums[rows + near]
        steps[side, rows] = np.linalg.norm(below - above, axis=1) / (far - near)
    # A hem may slant: within that, each thigh shows its own strongest step.
    slant = max(1, round(_HEM_SLANT * patch.rows_a_leg))
    for row in range(bottom - 1, far + slant, -1):
        window = steps[:, row - slant + 1 : row + 1]
        strongest = window.max(axis=1)
        if np.sqrt(strongest.prod()) > _HEM_STEP and steps[:, row].max() >= strongest.min():
            weaker = row - slant + 1
            return max(weaker, weaker + int(np.flatnonzero(window.max(axis=0) > _HEM_STEP)[-1]))
    return 0


def _follow(
    contrast: NDArray[np.float64],
    middle: NDArray[np.float64],
    patch: LegPatch,
    first: int,
    last: int,
) -> NDArray[np.intp]:
    """(last - first,) column of the strongest connected line from the last row up to the first."""
    reach = round(_BAND * patch.rows_a_leg)
    centres = np.clip(np.round(middle[first:last]).astype(int), reach, patch.width - 1 - reach)
    offsets = np.arange(-reach, reach + 1)
    band = np.minimum(
        np.stack([contrast[first + row, centres[row] + offsets] for row in range(last - first)]),
        _CAP,
    )
    total = band[-1].copy()
    choices = np.zeros(band.shape, int)
    for row in range(len(band) - 2, -1, -1):
        # Columns of neighbouring rows are counted from centres that may differ by a column.
        drift = int(centres[row] - centres[row + 1])
        options = np.stack(
            [_shifted(total, drift + step) - _STEP_COST * abs(step) for step in (-1, 0, 1)]
        )
        choices[row] = options.argmax(axis=0) - 1
        total = band[row] + options.max(axis=0)
    path = np.zeros(len(band), int)
    place = int(total.argmax())
    for row in range(len(band)):
        path[row] = centres[row] + offsets[place]
        if row + 1 < len(band):
            drift = int(centres[row] - centres[row + 1])
            place = int(np.clip(place + drift + choices[row, place], 0, len(offsets) - 1))
    return path


def _shifted(values: NDArray[np.float64], by: int) -> NDArray[np.float64]:
    """values[i + by], and minus infinity beyond the ends."""
    shifted = np.full_like(values, -np.inf)
    if by >= 0:
        shifted[: len(values) - by] = values[by:]
    else:
        shifted[-by:] = values[:by]
    return shifted


@dataclass(frozen=True, eq=False, slots=True)
class _Line:
    """The line from the hips' row downward.

    Attributes
    ----------
    along, near
        (N,) contrast with what lies at any distance, and with what lies near.
    mottling
        Near contrast of the cloth itself, away from the line.
    hem
        Row of the lowest hem, 0 or less where there is none.
    """

    along: NDArray[np.float64]
    near: NDArray[np.float64]
    mottling: float
    hem: int


@dataclass(frozen=True, slots=True)
class _End:
    """Row at which the line ends, counted from the hips' row, and how surely."""

    row: float
    sd_rows: float
    kind: CrotchKind = "line"


def _weighed_ends(line: _Line, patch: LegPatch) -> list[tuple[_End, float]]:
    """The different ends of the line with their shares of belief, the likeliest first."""
    main = _end_of_line(line, patch, share=_SHARE_OF_PEAK, hem=line.hem)
    if main is None:
        return []
    others = [_end_of_line(line, patch, share=share, hem=line.hem) for share in _OTHER_SHARES]
    if line.hem > 0:
        # What looks like a hem may be a pattern of the cloth, or a fold.
        others.append(_end_of_line(line, patch, share=_SHARE_OF_PEAK, hem=0))
    ends = [main]
    for end in others:
        if end is not None and not any(
            abs(end.row - one.row) < _SAME_END * patch.rows_a_leg for one in ends
        ):
            ends.append(end)
    is_line = main.kind == "line"
    if len(ends) == 1:
        return [(main, _LINE_ALONE if is_line else _HEM_ALONE)]
    first, rest = _LINE_FIRST if is_line else _HEM_FIRST
    return [(main, first), *((end, rest / (len(ends) - 1)) for end in ends[1:])]


def _end_of_line(line: _Line, patch: LegPatch, *, share: float, hem: int) -> _End | None:
    """Where the line, followed upward, ends; None where it is no line.

    ``share`` of the peak of its near contrast tells where the end is looked for.
    """
    along, near, mottling = line.along, line.near, line.mottling
    first = patch.row(_HIPS)
    top, bottom = (patch.row(part) - first for part in _USUAL)
    usual = float(np.median(along[top:bottom]))
    if usual < _LEAST_CONTRAST:
        return None
    # Nothing above the hem of a shirt says anything of the legs.
    ended = max(2, round(_ENDED * patch.rows_a_leg))
    lowest_hidden = max(hem, patch.row(_HIGHEST_END) - first)
    highest = max(lowest_hidden + 2, _highest_reached(along, usual, top, patch))
    # A gap too wide for the near contrast, or one lost in mottling, ends where the wide one does.
    peak = float(near[highest:bottom].max(initial=0.0))
    profile, peak = (near, peak) if peak >= max(_LEAST_CONTRAST, 2 * mottling) else (along, usual)
    level = float(
        np.clip(share * peak, max(_LEVEL[0], mottling), _LEVEL[1] * share / _SHARE_OF_PEAK)
    )
    strong = profile >= level
    for row in range(highest, bottom - ended):
        if strong[row : row + ended].all():
            break
    else:
        return None
    if row <= lowest_hidden + 2 and hem < lowest_hidden:
        return None
    end = _shoulder(along, row, hem, patch)
    if hem > 0 and end.row <= hem + max(2, _NEAR_HEM * patch.rows_a_leg):
        above, sd = (part * patch.rows_a_leg for part in _ABOVE_HEM)
        return _End(max(end.row - above, 0.0), sd, "hem")
    return end


def _shoulder(along: NDArray[np.float64], start: int, hem: int, patch: LegPatch) -> _End:
    """The row near ``start`` where the contrast, followed upward, begins to fall.

    Where cloth closes the gap the contrast leaves its plateau; above that a fading crease goes
    on, longer in some clothes and lights than in others. Plateau, ramp and ground are fitted by
    least squares for many rows and lengths of the ramp, and averaged by how well they fit.
    """
    above, below = (round(part * patch.rows_a_leg) for part in _SHOULDER_WITHIN)
    rows = np.arange(max(start - above, hem, 0), min(start + below, len(along)))
    heights = np.minimum(along[rows], _SHOULDER_CAP)
    least = round(_LEAST_PLATEAU * patch.rows_a_leg)
    shoulders, ramps = (
        grid.ravel()
        for grid in np.meshgrid(
            rows[4:-least].astype(float), np.array(_RAMPS) * patch.rows_a_leg, indexing="ij"
        )
    )
    # Share of the plateau in each row, for each choice: the rest is ground.
    plateau = np.clip(1 + (rows - shoulders[:, None]) / ramps[:, None], 0, 1)
    design = np.stack([1 - plateau, plateau], axis=-1)
    crosswise = design.transpose(0, 2, 1)
    levels = np.linalg.solve(crosswise @ design, (crosswise @ heights)[..., None])[..., 0]
    misfits = ((np.einsum("crl,cl->cr", design, levels) - heights) ** 2).sum(axis=1)
    rises = levels[:, 1] > levels[:, 0] + _LEAST_RISE
    if not rises.any():
        return _End(float(start), above / np.sqrt(12))
    relative = misfits[rises] / max(float(misfits[rises].min()), 1e-9)
    weights = np.exp(-(relative - 1) / _AS_GOOD)
    row = float(np.average(shoulders[rises], weights=weights))
    spread = np.average((shoulders[rises] - row) ** 2, weights=weights)
    return _End(row, float(np.sqrt(0.25 + spread)))


def _highest_reached(along: NDArray[np.float64], usual: float, start: int, patch: LegPatch) -> int:
    """Highest row that the line reaches from the thighs without a longer break."""
    weak = along < max(_GOES_ON * usual, 0.7 * _LEAST_CONTRAST)
    longest = max(2, round(_BREAK * patch.rows_a_leg))
    highest = start
    for row in range(start, -1, -1):
        if not weak[row]:
            highest = row
        elif highest - row > longest:
            break
    return highest
