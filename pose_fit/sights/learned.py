"""Crotch, wall base and joints as the trained network sees them, beside what is found otherwise.

The network guesses the skin's crotch through the cloth. It knows rendered children alone, so its
word never stands alone: where it is spread over the picture it counts little, and where nearly
every sight is, the legs are unlike all that it has seen and it does not count at all.
Of the wall base it says which of the edges found is more likely: in rooms unlike those of its
training it takes the top of a skirting board for it. Its toes and heels are not used: true
toes in their place would not bring the inseam nearer.
Its joints are nearer to the true joint centres than the pose model's where legs are seen, and worse
through skirts; and the pose model has seen real people. So both have their share.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEFT_LEG, RIGHT_LEG, Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.sights.candidates import CrotchCandidate, WallBaseCandidate
from pose_fit.sights.legs_network import (
    JOINTS,
    SIGHTS,
    LegsNetwork,
    NetworkSight,
    legs_network,
)

__all__ = [
    "Learned",
    "belief_in",
    "find_learned",
    "with_learned",
    "with_learned_base",
    "with_learned_joints",
]

#: Share of belief by sureness: how often a crotch this sure was no blunder (nearer than 6 % of a
#: leg). In rendered worlds that the network had not seen 0.95 were none, in real pictures 0.65
#: (calibration/results/sights_net.md, real_sights.md); between them, since the tool is for both.
_SURENESS: Final = (0.3, 0.5, 0.9)
_BELIEF: Final = (0.10, 0.50, 0.80)
#: The legs are unlike all that the network knows where so many of its eight sights are less sure
#: than this.
_UNSURE, _UNFAMILIAR = 0.5, 5
#: A line that ends this near the place where the network sees the cloth's crotch, in legs, is the
#: right one: the two differ only in how far they take the cloth to hang. In rendered worlds it is
#: all the same which of them counts more; in real pictures the line ends nearer to where the legs
#: part (1 % of the leg too high, the network 4 %), so it counts more.
_SAME: Final = 0.03
_LINE_SHARE: Final = 0.75
#: The cloth's crotch hangs below the skin's by parts of a leg between these.
_HANGS: Final = (-0.02, 0.10)
#: A wall base this near to the network's, in legs, is the one that it sees.
_SAME_BASE: Final = 0.025
#: How many times likelier a sure network makes the edge that it sees, and how much it is believed
#: where no edge is there: beside other edges, and where there are none. In rendered worlds that it
#: had not seen it was wrong in 2 % beside an edge and in half elsewhere; real rooms differ more.
_BASE_ODDS: Final = 5.0
_BASE_BESIDE, _BASE_ALONE = 0.3, 0.6
#: Share of the network's joints beside the pose model's, by sureness. In the asked-for pose and legwear
#: that shows the legs the more the better (0, 0.4 and 0.75 give mean errors of 11.3, 10.5 and
#: 10.0 mm with the sheet), through skirts the less; over all 0.4 is best, and real people speak for less.
_JOINT_SURENESS: Final = (0.3, 0.6)
_JOINT_SHARE: Final = 0.5
_PAIRS: Final = tuple(zip(LEFT_LEG, RIGHT_LEG, strict=True))


@dataclass(frozen=True, slots=True, eq=False)
class Learned:
    """What the network sees, in upright pixels.

    Attributes
    ----------
    skin
        The skin's crotch.
    cloth_px
        (2,) array: where the cloth's crotch hangs.
    base_px
        (2, 2) array: the wall base left and right of the child.
    base_sureness
        The lesser sureness of both, 0 to 1.
    joints
        Those of `JOINTS`, left and right as in the picture.
    """

    skin: CrotchCandidate
    cloth_px: NDArray[np.float64]
    base_px: NDArray[np.float64]
    base_sureness: float
    joints: Mapping[str, NetworkSight]


def find_learned(photo: Photo, body: Body, *, network: LegsNetwork | None = None) -> Learned | None:
    """Sights by the network, the shipped one where none is given; None in unfamiliar legs."""
    network = network or legs_network()
    hips_px, ankles_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    seen = network.see(photo.pixels, hips_px, ankles_px)
    if sum(seen[name].sureness < _UNSURE for name in SIGHTS) >= _UNFAMILIAR:
        return None
    crotch, bases = seen["crotch"], [seen["base_left"], seen["base_right"]]
    point_px = photo.upright_px(crotch.point_px)
    cloth_px = photo.upright_px(seen["cloth_crotch"].point_px)
    down = (body.ankles_px - body.hips_px) / body.leg_px
    skin = CrotchCandidate(
        point_px,
        crotch.spread_px * photo.working_scale,
        belief_in(crotch.sureness),
        "learned",
        hang_part=float(np.clip((cloth_px - point_px) @ down / body.leg_px, *_HANGS)),
    )
    return Learned(
        skin,
        cloth_px,
        photo.upright_px(np.stack([base.point_px for base in bases])),
        min(base.sureness for base in bases),
        {
            name: replace(seen[name], point_px=photo.upright_px(seen[name].point_px))
            for name in JOINTS
        },
    )


def belief_in(sureness: float) -> float:
    """Share of belief in a crotch of this sureness, 0 to 1."""
    return float(np.interp(sureness, _SURENESS, _BELIEF))


def with_learned(
    lines: tuple[CrotchCandidate, ...], learned: Learned | None, *, leg_px: float
) -> tuple[CrotchCandidate, ...]:
    """Both finders' candidates as alternatives, the likeliest first; weights add up to at most 1.

    The lines count for the case that the network is wrong. Where one ends at the place where the
    network sees the cloth's crotch, both would have to be wrong for the place to be.
    """
    if learned is None:
        return lines
    belief = learned.skin.weight
    near = [np.hypot(*(one.point_px - learned.cloth_px)) < _SAME * leg_px for one in lines]
    same = near.index(True) if any(near) else None
    if same is None:
        found = [learned.skin]
    else:
        belief += lines[same].weight * (1 - belief)
        found = [
            replace(lines[same], weight=_LINE_SHARE * belief),
            replace(learned.skin, weight=(1 - _LINE_SHARE) * belief),
        ]
    found += [
        replace(one, weight=one.weight * (1 - belief))
        for place, one in enumerate(lines)
        if place != same
    ]
    found.sort(key=lambda one: -one.weight)
    return tuple(found)


def with_learned_base(
    edges: tuple[WallBaseCandidate, ...], learned: Learned | None, *, leg_px: float
) -> tuple[WallBaseCandidate, ...]:
    """The edges, the likeliest first, with the network's word on which of them is the wall base.

    Where none is near to what the network sees, that becomes a candidate of its own.
    """
    if learned is None or learned.base_sureness < _UNSURE:
        return edges
    middle_px = learned.base_px.mean(axis=0)
    apart = [abs(_height_px(edge, middle_px)) / leg_px for edge in edges]
    if edges and min(apart) < _SAME_BASE:
        same = apart.index(min(apart))
        odds = 1 + (_BASE_ODDS - 1) * learned.base_sureness
        whole = 1 + (odds - 1) * edges[same].weight
        found = [
            replace(edge, weight=edge.weight * (odds if place == same else 1.0) / whole)
            for place, edge in enumerate(edges)
        ]
    else:
        belief = learned.base_sureness * (_BASE_BESIDE if edges else _BASE_ALONE)
        found = [replace(edge, weight=edge.weight * (1 - belief)) for edge in edges]
        found.append(WallBaseCandidate(learned.base_px, belief))
    return tuple(sorted(found, key=lambda edge: -edge.weight))


def with_learned_joints(
    body: Body, learned: Learned | None, *, kept: Collection[Landmark] = ()
) -> Body:
    """The body with hips, knees and ankles between where both see them.

    Parameters
    ----------
    kept
        Joints that stay where they are: somebody moved them.
    """
    if learned is None:
        return body
    places_px: dict[Landmark, NDArray[np.float64]] = {}
    for pair, name in zip(_PAIRS, ("hip", "knee", "ankle"), strict=True):
        by_column = sorted(pair, key=lambda joint: body.point_px(joint)[0])
        seen = [learned.joints[f"{name}_{side}"] for side in ("left", "right")]
        share = float(
            np.interp(min(one.sureness for one in seen), _JOINT_SURENESS, (0.0, _JOINT_SHARE))
        )
        for joint, one in zip(by_column, seen, strict=True):
            if joint not in kept:
                at_px = body.point_px(joint)
                places_px[joint] = at_px + share * (one.point_px - at_px)
    return body.with_points(places_px)


def _height_px(edge: WallBaseCandidate, place_px: NDArray[np.float64]) -> float:
    """How far an edge passes below a place."""
    (left, top), (right, bottom) = edge.line_px
    return float(top + (place_px[0] - left) * (bottom - top) / (right - left) - place_px[1])
