"""The crotch as the trained network sees it, beside the ends of the line found by rule.

The network guesses the skin's crotch through the cloth. It knows rendered children alone, so its
word never stands alone: where it is spread over the picture it counts little, and where nearly
every sight is, the legs are unlike all that it has seen and it does not count at all.
Heels and wall base of the same network are not used: the heels added nothing, and in rooms
unlike those of its training it took the top of a skirting board for the wall base.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.sights.candidates import CrotchCandidate
from pose_fit.sights.legs_network import LegsNetwork, legs_network

__all__ = ["LearnedCrotch", "belief_in", "find_learned", "with_learned"]

#: Share of belief by sureness. In rendered worlds that the network had not seen, a crotch this sure
#: was no blunder (nearer than 6 % of a leg) about as often.
_SURENESS: Final = (0.3, 0.5, 0.9)
_BELIEF: Final = (0.10, 0.60, 0.93)
#: The legs are unlike all that the network knows where so many of its eight sights are less sure
#: than this.
_UNSURE, _UNFAMILIAR = 0.5, 5
#: A line that ends this near the place where the network sees the cloth's crotch, in legs, is the
#: right one: the two differ only in how far they take the cloth to hang. Neither is known to be
#: better in pictures that neither was made on, so each counts half.
_SAME: Final = 0.03
_HALF: Final = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class LearnedCrotch:
    """What the network sees: the skin's crotch, and (2,) where the cloth's hangs, upright pixels."""

    skin: CrotchCandidate
    cloth_px: NDArray[np.float64]


def find_learned(
    photo: Photo, body: Body, *, network: LegsNetwork | None = None
) -> LearnedCrotch | None:
    """The crotch by the network, the shipped one where none is given; None in unfamiliar legs."""
    network = network or legs_network()
    hips_px, ankles_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    seen = network.see(photo.pixels, hips_px, ankles_px)
    if sum(one.sureness < _UNSURE for one in seen.values()) >= _UNFAMILIAR:
        return None
    crotch = seen["crotch"]
    skin = CrotchCandidate(
        photo.upright_px(crotch.point_px),
        crotch.spread_px * photo.working_scale,
        belief_in(crotch.sureness),
        "learned",
    )
    return LearnedCrotch(skin, photo.upright_px(seen["cloth_crotch"].point_px))


def belief_in(sureness: float) -> float:
    """Share of belief in a crotch of this sureness, 0 to 1."""
    return float(np.interp(sureness, _SURENESS, _BELIEF))


def with_learned(
    lines: tuple[CrotchCandidate, ...], learned: LearnedCrotch | None, *, leg_px: float
) -> tuple[CrotchCandidate, ...]:
    """Both finders' candidates as alternatives, the likeliest first; weights add up to at most 1.

    They look at one picture and are not independent. The lines count for the case that the
    network is wrong; one that ends where the network sees the cloth's crotch is believed as
    much as the network.
    """
    if learned is None:
        return lines
    belief = learned.skin.weight
    near = [np.hypot(*(one.point_px - learned.cloth_px)) < _SAME * leg_px for one in lines]
    if any(near):
        same = near.index(True)
        half = replace(learned.skin, weight=_HALF * belief)
        found = [replace(lines[same], weight=_HALF * belief), half]
        others = [one for place, one in enumerate(lines) if place != same]
    else:
        found, others = [learned.skin], list(lines)
    found += [replace(one, weight=one.weight * (1 - belief)) for one in others]
    found.sort(key=lambda one: -one.weight)
    return tuple(found)
