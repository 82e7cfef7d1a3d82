"""Six worlds, and one that mixes them (a seventh, of the bench's own scenes: `plain`).

Shares and ranges are assumptions about what families send, no measurement.

The mixed world only teaches. Each of its children is dressed as one of the six worlds does it,
in cuts stretched beyond that world's and any world's prints, before a room of another. Whoever
leaves a world out leaves out the mixed children dressed as there too
(:attr:`~calibration.worlds.world_scene.WorldScene.dressed_as`).
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from calibration.worlds.outfits import Style, Wear
from calibration.worlds.rooms import ThingKind

__all__ = ["MIXED", "MIXED_SEED", "WORLDS", "World", "mixed_world"]


@dataclass(frozen=True, slots=True)
class World:
    """A way of making photos.

    Attributes
    ----------
    wears, things
        Legwear and its share of the children; what may stand in the room, each with its chance.
    boards_mm
        Heights of the skirting board, one of which is drawn; 0 is none.
    noise
        Standard deviation of the film's noise, parts of full scale.
    bare_share, wide_film_share
        Shares of children without shoes and of pictures of 16:9.
    dressed_as
        The world from which a mixed one has its way of dressing.
    """

    name: str
    seed: int
    style: Style
    wears: tuple[tuple[Wear, float], ...]
    outdoors: bool
    walls: tuple[str, ...]
    floors: tuple[str, ...]
    lights: tuple[str, ...]
    boards_mm: tuple[float, ...]
    things: tuple[tuple[ThingKind, float], ...]
    prints: tuple[str, ...]
    noise: float
    bare_share: float
    wide_film_share: float
    dressed_as: str | None = None


WORLDS: Final[tuple[World, ...]] = (
    World(
        name="suit",
        seed=101,
        style="suit",
        wears=(("slim trousers", 0.4), ("straight trousers", 0.35), ("shorts", 0.25)),
        outdoors=False,
        walls=("paint",),
        floors=("planks", "tiles"),
        lights=("ceiling", "window"),
        boards_mm=(60, 80, 100),
        things=(("socket", 0.5), ("picture", 0.3)),
        prints=("none", "none", "checks"),
        noise=0.004,
        bare_share=0.35,
        wide_film_share=0.2,
    ),
    World(
        name="sewn",
        seed=102,
        style="sewn",
        wears=(
            ("slim trousers", 0.3),
            ("straight trousers", 0.25),
            ("jeans", 0.35),
            ("shorts", 0.1),
        ),
        outdoors=False,
        walls=("wallpaper", "paint", "planks"),
        floors=("carpet", "planks"),
        lights=("lamps", "window"),
        boards_mm=(0, 50, 120, 180),
        things=(
            ("shelf", 0.5),
            ("cupboard", 0.4),
            ("sofa", 0.3),
            ("table", 0.3),
            ("rug", 0.35),
            ("picture", 0.5),
            ("socket", 0.3),
            ("second_board", 0.3),
        ),
        prints=("none", "none", "cord", "tartan"),
        noise=0.006,
        bare_share=0.3,
        wide_film_share=0.3,
    ),
    World(
        name="draped",
        seed=103,
        style="draped",
        wears=(
            ("straight trousers", 0.35),
            ("joggers", 0.35),
            ("long shorts", 0.2),
            ("skirt", 0.1),
        ),
        outdoors=True,
        walls=("brick", "concrete", "planks"),
        floors=("grass", "paving", "concrete"),
        lights=("sun", "overcast"),
        boards_mm=(0,),
        things=(("plant", 0.6), ("crate", 0.3), ("floor_strip", 0.2), ("second_board", 0.2)),
        prints=("none", "camouflage", "stripes_down"),
        noise=0.003,
        bare_share=0.2,
        wide_film_share=0.3,
    ),
    World(
        name="leggings",
        seed=104,
        style="painted",
        wears=(("leggings", 0.62), ("tunic", 0.26), ("dress", 0.12)),
        outdoors=False,
        walls=("paint", "wallpaper"),
        floors=("tiles", "carpet", "planks"),
        lights=("ceiling", "lamps"),
        boards_mm=(70, 140, 0),
        things=(
            ("door_ajar", 0.6),
            ("radiator", 0.35),
            ("dado_rail", 0.35),
            ("second_board", 0.35),
            ("crate", 0.3),
            ("rug", 0.25),
        ),
        prints=("dots", "flowers", "galaxy", "none", "zigzag", "stripes"),
        noise=0.007,
        bare_share=0.35,
        wide_film_share=0.35,
    ),
    World(
        name="baggy",
        seed=105,
        style="sewn",
        wears=(("hanging jeans", 0.5), ("joggers", 0.3), ("long shorts", 0.2)),
        outdoors=False,
        walls=("paint", "concrete", "brick"),
        floors=("planks", "concrete", "tiles"),
        lights=("ceiling", "window"),
        boards_mm=(0, 0, 90),
        things=(
            ("person", 0.35),
            ("wall_bars", 0.35),
            ("floor_strip", 0.45),
            ("crate", 0.3),
            ("socket", 0.2),
        ),
        prints=("none", "none", "camouflage", "cord"),
        noise=0.005,
        bare_share=0.15,
        wide_film_share=0.25,
    ),
    World(
        name="summer",
        seed=106,
        style="sewn",
        wears=(("shorts", 0.5), ("long shorts", 0.15), ("skirt", 0.15), ("dress", 0.2)),
        outdoors=True,
        walls=("planks", "brick", "concrete"),
        floors=("planks", "paving", "grass"),
        lights=("sun", "overcast"),
        boards_mm=(0,),
        things=(("plant", 0.5), ("table", 0.3), ("crate", 0.3), ("person", 0.15), ("rug", 0.2)),
        prints=("flowers", "stripes", "none", "tropic", "checks"),
        noise=0.003,
        bare_share=0.5,
        wide_film_share=0.2,
    ),
)

#: Name and seed of the world that mixes the six.
MIXED: Final = "mixed"
MIXED_SEED: Final = 107


def mixed_world(index: int) -> World:
    """The mixed world as its child number ``index`` finds it."""
    rng = np.random.default_rng((MIXED_SEED, index, 0))
    dress, room, film = (WORLDS[int(rng.integers(len(WORLDS)))] for _ in range(3))
    prints = sorted({cloth for world in WORLDS for cloth in world.prints} - {"none"})
    plain = ("none",) * (len(prints) // 2)
    return replace(
        room,
        name=MIXED,
        seed=MIXED_SEED,
        style=dress.style,
        wears=dress.wears,
        bare_share=dress.bare_share,
        prints=(*prints, *plain),
        noise=film.noise,
        wide_film_share=film.wide_film_share,
        dressed_as=dress.name,
    )
