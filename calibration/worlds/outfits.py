"""What a child of a world wears."""

from dataclasses import dataclass
from typing import Literal

from calibration.scenes.scene import Rgb

__all__ = ["Outfit", "Style", "Wear"]

#: How legwear is made, which is what differs in kind between worlds.
#: ``own`` is the clothes of the bench's own scenes.
Style = Literal["suit", "sewn", "draped", "painted", "own"]
Wear = Literal[
    "slim trousers",
    "straight trousers",
    "jeans",
    "hanging jeans",
    "joggers",
    "leggings",
    "shorts",
    "long shorts",
    "skirt",
    "dress",
    "tunic",
]


@dataclass(frozen=True, slots=True)
class Outfit:
    """What a child wears, beyond colours and shoes, which its :class:`Dress` holds.

    ``hem_fraction`` runs along the leg: 0 crotch, 1 knee, 2 ankle, 3 sole. ``drop_mm`` is how far
    the crotch seam is laid below the skin's. ``top_hem_mm`` is the top's hem below the crotch
    (negative: above it); ``boxy`` tops hang straight.
    """

    style: Style
    wear: Wear
    ease_mm: float
    flare_mm: float
    drop_mm: float
    hem_fraction: float
    fold_mm: float
    stack_mm: float
    print_kind: str
    print_rgb: Rgb
    top_hem_mm: float
    boxy: bool
    top_print: str
    shoe_longer_mm: float
    seed: int
