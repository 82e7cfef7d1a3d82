"""What the trained network makes of the legs, as candidates beside those of the finders by rule.

It guesses the skin's crotch through the cloth, sees where the heels stand, and where wall and
floor meet. It knows rendered children alone, so its word never stands alone: where a sight is
spread over the picture it counts little, and where all are, the legs are unlike all that it has
seen and it does not count at all.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

import numpy as np

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.sights.candidates import CrotchCandidate, HeelsCandidate, WallBaseCandidate
from pose_fit.sights.legs_network import LegsNetwork, legs_network

__all__ = ["LearnedSights", "beside_learned", "belief_in", "find_learned"]

#: Share of belief by sureness. In rendered worlds that the network had not seen, a sight this sure
#: was no blunder (nearer than 6 % of a leg) about as often.
_SURENESS: Final = (0.3, 0.5, 0.9)
_BELIEF: Final = (0.10, 0.60, 0.93)
#: A sight less sure than this says little.
SURE: Final = 0.5
#: The legs are unlike all that the network knows where so many of its eight sights are unsure.
_UNFAMILIAR: Final = 5


@dataclass(frozen=True, slots=True)
class LearnedSights:
    """The network's candidates, each alone; None of them where the legs are unfamiliar."""

    crotches: tuple[CrotchCandidate, ...] = ()
    heels: tuple[HeelsCandidate, ...] = ()
    wall_bases: tuple[WallBaseCandidate, ...] = ()
    is_unfamiliar: bool = False


def find_learned(photo: Photo, body: Body, *, network: LegsNetwork | None = None) -> LearnedSights:
    """What the network sees; the shipped one where none is given."""
    network = network or legs_network()
    middles_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    seen = network.see(photo.pixels, middles_px[0], middles_px[1])
    if sum(one.sureness < SURE for one in seen.values()) >= _UNFAMILIAR:
        return LearnedSights(is_unfamiliar=True)
    points_px = {name: photo.upright_px(one.point_px) for name, one in seen.items()}

    def pair(name: str) -> tuple[np.ndarray, float]:
        names = [f"{name}_{side}" for side in ("left", "right")]
        sureness = min(seen[one].sureness for one in names)
        return np.stack([points_px[one] for one in names]), belief_in(sureness)

    crotch = seen["crotch"]
    return LearnedSights(
        crotches=(
            CrotchCandidate(
                points_px["crotch"],
                crotch.spread_px * photo.working_scale,
                belief_in(crotch.sureness),
                "learned",
            ),
        ),
        heels=(HeelsCandidate(*pair("heel")),),
        wall_bases=(WallBaseCandidate(*pair("base")),),
    )


def belief_in(sureness: float) -> float:
    """Share of belief in a sight of this sureness, 0 to 1."""
    return float(np.interp(sureness, _SURENESS, _BELIEF))


_Candidate = TypeVar("_Candidate", CrotchCandidate, WallBaseCandidate)


def beside_learned(
    found: Sequence[_Candidate], learned: Sequence[_Candidate]
) -> tuple[_Candidate, ...]:
    """Both finders' candidates as alternatives, the likeliest first.

    They look at one picture and are not independent: those by rule count for the case that
    the learned one is wrong, so that all weights still add up to at most 1.
    """
    left: float = 1.0 - sum(one.weight for one in learned)
    together: list[_Candidate] = [*learned]
    together += [replace(one, weight=one.weight * left) for one in found]
    together.sort(key=lambda one: -one.weight)
    return tuple(together)
