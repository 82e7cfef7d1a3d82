"""What a world's child wears in its photos."""

from dataclasses import replace
from typing import Final, Literal

import numpy as np
from numpy.random import Generator

from calibration.scenes.scene import Dress, Legwear, Rgb
from calibration.worlds.outfits import Outfit, Wear
from calibration.worlds.world import World

__all__ = ["draw_clothes", "legwear_group"]

_Range = tuple[float, float]
#: Ease, flare, drop of the crotch seam, hem along the leg, folds, rings above the shoe.
_CUTS: Final[dict[Wear, tuple[_Range, _Range, _Range, _Range, _Range, _Range]]] = {
    "slim trousers": ((2, 5), (0, 3), (2, 8), (1.8, 1.98), (0.4, 1.2), (0, 1)),
    "straight trousers": ((6, 16), (4, 18), (4, 18), (1.85, 2.1), (1.2, 3), (0, 3)),
    "jeans": ((4, 12), (2, 12), (4, 16), (1.85, 2.15), (0.8, 2.2), (0, 4)),
    "hanging jeans": ((12, 26), (6, 26), (25, 85), (1.9, 2.2), (2, 5), (2, 7)),
    "joggers": ((9, 20), (0, 8), (10, 50), (1.8, 2.0), (2, 5), (1, 5)),
    "leggings": ((0.6, 1.6), (0, 0), (0, 1), (1.55, 1.98), (0.1, 0.3), (0, 0)),
    "tunic": ((0.6, 1.6), (0, 0), (0, 1), (1.55, 1.98), (0.1, 0.3), (0, 0)),
    "shorts": ((5, 16), (5, 25), (2, 16), (0.45, 1.0), (1, 3), (0, 0)),
    "long shorts": ((8, 20), (6, 22), (8, 35), (0.9, 1.35), (1.5, 4), (0, 0)),
    "skirt": ((4, 12), (20, 120), (0, 0), (0.35, 1.1), (1, 6), (0, 0)),
    "dress": ((6, 14), (10, 90), (0, 0), (0.4, 1.2), (1, 6), (0, 0)),
}


def draw_clothes(rng: Generator, world: World, base: Dress) -> tuple[Outfit, Dress]:
    """Cut and colours; ``base`` has the colours that are kept."""
    names = [name for name, _ in world.wears]
    shares = np.array([share for _, share in world.wears])
    wear: Wear = names[int(rng.choice(len(names), p=shares / shares.sum()))]
    ease, flare, drop, hem, fold, stack = _CUTS[wear]
    boxy = bool(rng.random() < 0.65) and world.style != "suit"
    top_hem_mm = -float(rng.uniform(20, 150))
    style = world.style
    if wear == "tunic":
        boxy, top_hem_mm = True, float(rng.uniform(-45, 120))
    if boxy and wear == "leggings":
        top_hem_mm = -float(rng.uniform(15, 150))
    outfit = Outfit(
        style=style,
        wear=wear,
        ease_mm=float(rng.uniform(*ease)),
        flare_mm=float(rng.uniform(*flare)),
        drop_mm=float(rng.uniform(*drop)),
        hem_fraction=float(rng.uniform(*hem)),
        fold_mm=float(rng.uniform(*fold)),
        stack_mm=float(rng.uniform(*stack)),
        print_kind=str(rng.choice(world.prints)),
        print_rgb=base.top_second_rgb,
        top_hem_mm=top_hem_mm,
        boxy=boxy,
        top_print=str(rng.choice(("plain", "stripes", "checks", "dots", "badge", "heather"))),
        shoe_longer_mm=float(rng.uniform(-8, 12)),
        seed=int(rng.integers(1 << 30)),
    )
    if world.dressed_as is not None:
        outfit = _stretched_cut(rng, outfit)
    if outfit.print_kind == "none" and wear in ("jeans", "hanging jeans"):
        base = replace(base, leg_weave="denim", leg_rgb=_denim(rng))
    elif world.style != "suit":
        base = replace(base, leg_weave="plain")
    footwear: Literal["bare", "socks", "shoes"] = "shoes"
    if rng.random() < world.bare_share:
        footwear = "bare" if rng.random() < 0.6 else "socks"
    thick = rng.random() < 0.5
    soles_mm = float(rng.uniform(15, 34) if thick else rng.uniform(3, 12))
    group = legwear_group(outfit)
    dress = replace(
        base,
        legwear=group,
        cover="long_top" if group == "hidden" else "none",
        cover_below_crotch_mm=0.0,
        leg_ease_mm=outfit.ease_mm,
        leg_flare_mm=outfit.flare_mm,
        crotch_slack_mm=outfit.drop_mm,
        fold_mm=outfit.fold_mm,
        leg_hem_fraction=outfit.hem_fraction,
        top_above_crotch_mm=-top_hem_mm if not boxy else 30.0,
        footwear=footwear,
        soles_mm=round(soles_mm, 1) if footwear == "shoes" else 0.0,
    )
    return outfit, dress


def legwear_group(outfit: Outfit) -> Legwear:
    """The bench's word for the legwear."""
    groups: dict[Wear, Legwear] = {
        "slim trousers": "snug",
        "leggings": "snug",
        "straight trousers": "regular",
        "jeans": "regular",
        "hanging jeans": "loose",
        "joggers": "loose",
        "shorts": "shorts",
        "long shorts": "shorts",
        "skirt": "hidden",
        "dress": "hidden",
        "tunic": "hidden",
    }
    group = groups[outfit.wear]
    if group != "hidden" and outfit.boxy and outfit.top_hem_mm > -12:
        return "hidden"
    if group == "regular" and outfit.ease_mm > 17:
        return "loose"
    return group


def _stretched_cut(rng: Generator, outfit: Outfit) -> Outfit:
    """A cut beyond its world's range, by factors of up to 1.6 either way."""
    ease, flare, drop, fold, stack = np.exp(rng.uniform(-0.47, 0.47, 5))
    return replace(
        outfit,
        ease_mm=outfit.ease_mm * float(ease),
        flare_mm=outfit.flare_mm * float(flare),
        drop_mm=outfit.drop_mm * float(drop),
        fold_mm=outfit.fold_mm * float(fold),
        stack_mm=outfit.stack_mm * float(stack),
    )


def _denim(rng: Generator) -> Rgb:
    value = float(np.exp(rng.normal(np.log(0.08), 0.6)))
    return 0.55 * value, 0.75 * value, min(1.25 * value, 0.6)
