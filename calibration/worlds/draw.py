"""Six worlds and one that mixes them, and how the photos of each are drawn (a seventh: `plain`).

A world draws from generators of its own: photo, child and world decide, nothing else. Bodies
and who is photographed differ between worlds too: no child stands in two of them. Shares and
ranges are assumptions about what families send, no measurement.

The mixed world only teaches. Each of its children is dressed as one of the six worlds does it,
in cuts stretched beyond that world's and any world's prints, before a room of another. Whoever
leaves a world out leaves out the mixed children dressed as there too
(:attr:`~calibration.worlds.world_scene.WorldScene.dressed_as`).
"""

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.random import Generator

from calibration.scenes.draw import draw_scene
from calibration.scenes.draw_reference import draw_reference
from calibration.scenes.scene import Dress, Film, Legwear, Paper, Place, ReferenceKind, Rgb, Scene
from calibration.worlds.outfits import Outfit, Style, Wear
from calibration.worlds.people import Proportions
from calibration.worlds.rooms import ThingKind, draw_clutter
from calibration.worlds.stances import StanceGroup, draw_stance
from calibration.worlds.world_scene import WorldScene

__all__ = [
    "MIXED",
    "MIXED_SEED",
    "PHOTOS_A_CHILD",
    "WORLDS",
    "World",
    "draw_world_scene",
    "legwear_group",
    "mixed_world",
]

PHOTOS_A_CHILD: Final = 4

#: Kinds of reference in turn, child by child; the index of the bench's own draws that has it.
_KINDS: Final = (
    "sheet",
    "door",
    "letter",
    "sheet",
    "wheel",
    "a4",
    "sheet",
    "none",
    "letter",
    "sheet",
    "door",
    "a4",
    "sheet",
    "wheel",
)


@dataclass(frozen=True, slots=True)
class World:
    """A way of making photos. ``wears`` pairs legwear with its share.

    ``dressed_as`` names the world from which a mixed one has its way of dressing.
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
        "suit",
        101,
        "suit",
        (("slim trousers", 0.4), ("straight trousers", 0.35), ("shorts", 0.25)),
        False,
        ("paint",),
        ("planks", "tiles"),
        ("ceiling", "window"),
        (60, 80, 100),
        (("socket", 0.5), ("picture", 0.3)),
        ("none", "none", "checks"),
        0.004,
        0.35,
        0.2,
    ),
    World(
        "sewn",
        102,
        "sewn",
        (("slim trousers", 0.3), ("straight trousers", 0.25), ("jeans", 0.35), ("shorts", 0.1)),
        False,
        ("wallpaper", "paint", "planks"),
        ("carpet", "planks"),
        ("lamps", "window"),
        (0, 50, 120, 180),
        (
            ("shelf", 0.5),
            ("cupboard", 0.4),
            ("sofa", 0.3),
            ("table", 0.3),
            ("rug", 0.35),
            ("picture", 0.5),
            ("socket", 0.3),
            ("second_board", 0.3),
        ),
        ("none", "none", "cord", "tartan"),
        0.006,
        0.3,
        0.3,
    ),
    World(
        "draped",
        103,
        "draped",
        (("straight trousers", 0.35), ("joggers", 0.35), ("long shorts", 0.2), ("skirt", 0.1)),
        True,
        ("brick", "concrete", "planks"),
        ("grass", "paving", "concrete"),
        ("sun", "overcast"),
        (0,),
        (("plant", 0.6), ("crate", 0.3), ("floor_strip", 0.2), ("second_board", 0.2)),
        ("none", "camouflage", "stripes_down"),
        0.003,
        0.2,
        0.3,
    ),
    World(
        "leggings",
        104,
        "painted",
        (("leggings", 0.62), ("tunic", 0.26), ("dress", 0.12)),
        False,
        ("paint", "wallpaper"),
        ("tiles", "carpet", "planks"),
        ("ceiling", "lamps"),
        (70, 140, 0),
        (
            ("door_ajar", 0.6),
            ("radiator", 0.35),
            ("dado_rail", 0.35),
            ("second_board", 0.35),
            ("crate", 0.3),
            ("rug", 0.25),
        ),
        ("dots", "flowers", "galaxy", "none", "zigzag", "stripes"),
        0.007,
        0.35,
        0.35,
    ),
    World(
        "baggy",
        105,
        "sewn",
        (("hanging jeans", 0.5), ("joggers", 0.3), ("long shorts", 0.2)),
        False,
        ("paint", "concrete", "brick"),
        ("planks", "concrete", "tiles"),
        ("ceiling", "window"),
        (0, 0, 90),
        (
            ("person", 0.35),
            ("wall_bars", 0.35),
            ("floor_strip", 0.45),
            ("crate", 0.3),
            ("socket", 0.2),
        ),
        ("none", "none", "camouflage", "cord"),
        0.005,
        0.15,
        0.25,
    ),
    World(
        "summer",
        106,
        "sewn",
        (("shorts", 0.5), ("long shorts", 0.15), ("skirt", 0.15), ("dress", 0.2)),
        True,
        ("planks", "brick", "concrete"),
        ("planks", "paving", "grass"),
        ("sun", "overcast"),
        (0,),
        (("plant", 0.5), ("table", 0.3), ("crate", 0.3), ("person", 0.15), ("rug", 0.2)),
        ("flowers", "stripes", "none", "tropic", "checks"),
        0.003,
        0.5,
        0.2,
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


def draw_world_scene(
    world: World,
    *,
    index: int,
    photo: int,
    child: Proportions,
    width_px: int,
    height_px: int,
) -> WorldScene:
    """The photo of a world's child."""
    setup = np.random.default_rng((world.seed, index))
    shot = np.random.default_rng((world.seed, index, photo + 1))
    kind = _KINDS[(index + world.seed) % len(_KINDS)]
    base = _base(setup, world, index, photo, kind, width_px, height_px)
    person = replace(
        base.person,
        age_years=min(max(child.age_years, 2.0), 14.0),
        sex=child.sex,
        hair=_hair(setup, child),
    )
    place = _place(setup, world, base.place)
    if isinstance(base.reference, Paper) and base.reference.kind != "sheet":
        place = _darker(setup, place)
    outfit, dress = _clothes(setup, world, base.dress)
    group: StanceGroup = "asked" if photo % 2 == 0 else "free"
    stance = draw_stance(shot, group=group, age_years=child.age_years)
    # Of one child: a first photo, a step to the left, a step to the right, nearer.
    step = {0: 0.0, 1: -1.0, 2: 1.0, 3: 0.0}[photo]
    distance_mm = float(np.clip(child.stature_mm * setup.uniform(1.6, 2.7), 1800, 3500))
    height_mm = float(setup.uniform(650, 1600))
    height_mm += float(shot.normal(0, 60))
    if photo == 3:
        distance_mm = max(0.75 * distance_mm, 1800.0)
    wide_film = bool(shot.random() < world.wide_film_share)
    nominal_35mm = float(shot.choice([24, 24, 25, 26, 26, 28]))
    view = replace(
        base.view,
        distance_mm=distance_mm,
        height_mm=height_mm,
        azimuth_deg=float(np.clip(8.0 * step + shot.normal(0, 3.5), -18, 18)),
        focal_35mm=nominal_35mm * (1 + float(np.clip(shot.normal(0, 0.012), -0.035, 0.035))),
        k1=float(np.clip(shot.normal(-0.002, 0.008), -0.025, 0.025)),
        least_fill=float(shot.uniform(0.5, 0.85)),
        whole_body=bool(shot.random() < 0.92),
    )
    film = _film(shot, world, base.film, nominal_35mm=nominal_35mm, wide=wide_film)
    side = int(getattr(base.reference, "side", 1))
    kinds = tuple(name for name, share in world.things if setup.random() < share)
    clutter = draw_clutter(setup, kinds=kinds, side=-side)
    return WorldScene(
        world=world.name,
        dressed_as=world.dressed_as or world.name,
        scene=replace(
            base, person=person, place=place, dress=dress, stance=stance, view=view, film=film
        ),
        proportions=child,
        shape_pick=int(setup.integers(6)),
        stance_group=group,
        seat_at_wall=group == "asked" and bool(shot.random() < 0.75),
        outfit=outfit,
        clutter=clutter,
        has_reference=kind != "none",
    )


def _base(
    setup: Generator, world: World, index: int, photo: int, kind: str, width_px: int, height_px: int
) -> Scene:
    """A draw of the bench's own, with a reference of the wanted kind."""
    base = draw_scene(
        seed=world.seed, index=index, photo=photo, width_px=width_px, height_px=height_px
    )
    wanted: ReferenceKind = "sheet" if kind == "none" else kind  # type: ignore[assignment]
    return replace(base, reference=draw_reference(setup, kind=wanted, person=base.person))


def _hair(rng: Generator, child: Proportions) -> Literal["cropped", "short", "long"]:
    if child.sex == "f":
        return "long" if rng.random() < 0.6 else "short"
    return "short" if rng.random() < 0.7 else "cropped"


def _place(rng: Generator, world: World, base: Place) -> Place:
    wall = str(rng.choice(world.walls))
    floor = str(rng.choice(world.floors))
    rgb = _WALL_RGB.get(wall)
    board = float(rng.choice(world.boards_mm))

    def tinted(colour: Rgb) -> Rgb:
        tint = np.exp(rng.normal(0, 0.25)) * np.exp(rng.normal(0, 0.08, 3))
        red, green, blue = np.clip(np.array(colour) * tint, 0.01, 0.85)
        return float(red), float(green), float(blue)

    wall_rgb = tinted(rgb) if rgb else _paint(rng)
    second = np.clip(np.array(wall_rgb) * np.exp(rng.normal(0, 0.2, 3)), 0.01, 0.85)
    return replace(
        base,
        outdoors=world.outdoors,
        wall=wall,  # type: ignore[arg-type]
        wall_rgb=wall_rgb,
        wall_second_rgb=(float(second[0]), float(second[1]), float(second[2])),
        floor=floor,  # type: ignore[arg-type]
        floor_rgb=tinted(_FLOOR_RGB[floor]),
        skirting_height_mm=board * float(rng.uniform(0.9, 1.1)),
        skirting_depth_mm=float(rng.uniform(8, 22)) if board > 0 else 0.0,
        skirting_rgb=(0.74, 0.73, 0.71) if rng.random() < 0.5 else wall_rgb,
        light=str(rng.choice(world.lights)),  # type: ignore[arg-type]
        light_azimuth_deg=float(rng.uniform(-75, 75)),
        light_elevation_deg=float(rng.uniform(22, 68)),
        light_warmth=float(rng.uniform(-0.12, 0.4)),
        ambient=float(rng.uniform(0.15, 0.7)),
    )


_WALL_RGB: Final[dict[str, Rgb]] = {
    "brick": (0.30, 0.12, 0.08),
    "concrete": (0.36, 0.35, 0.33),
    "planks": (0.34, 0.22, 0.12),
}
_FLOOR_RGB: Final[dict[str, Rgb]] = {
    "planks": (0.32, 0.19, 0.09),
    "tiles": (0.48, 0.45, 0.41),
    "carpet": (0.22, 0.20, 0.19),
    "concrete": (0.36, 0.35, 0.33),
    "paving": (0.32, 0.29, 0.25),
    "grass": (0.06, 0.14, 0.025),
}


def _paint(rng: Generator) -> Rgb:
    value = float(rng.choice([0.72, 0.6, 0.45, 0.3, 0.2]))
    tint = np.exp(rng.normal(0, 0.12, 3))
    red, green, blue = np.clip(value * tint, 0.02, 0.85)
    return float(red), float(green), float(blue)


def _darker(rng: Generator, place: Place) -> Place:
    """A plain page needs a wall that is not white to be seen at all."""
    if place.wall not in ("paint", "wallpaper") or max(place.wall_rgb) < 0.5:
        return place
    scale = float(rng.uniform(0.25, 0.6)) / max(place.wall_rgb)
    red, green, blue = (scale * value for value in place.wall_rgb)
    r2, g2, b2 = (scale * value for value in place.wall_second_rgb)
    return replace(place, wall_rgb=(red, green, blue), wall_second_rgb=(r2, g2, b2))


def _clothes(rng: Generator, world: World, base: Dress) -> tuple[Outfit, Dress]:
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


def _denim(rng: Generator) -> Rgb:
    value = float(np.exp(rng.normal(np.log(0.08), 0.6)))
    return 0.55 * value, 0.75 * value, min(1.25 * value, 0.6)


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


def _film(rng: Generator, world: World, base: Film, *, nominal_35mm: float, wide: bool) -> Film:
    """The bench's film with the world's noise; a 16:9 picture is cropped from the 4:3 sensor."""
    treatment = ("original", "messenger", "stripped", "edited")[
        int(rng.choice(4, p=[0.5, 0.3, 0.12, 0.08]))
    ]
    crop = rng.uniform(0.0, 0.1, 4) if treatment == "edited" else np.zeros(4)
    if wide:
        crop = np.array([0.125, 0.0, 0.125, 0.0])
    keeps = treatment in ("original", "edited")
    return replace(
        base,
        treatment=treatment,  # type: ignore[arg-type]
        crop_left=float(crop[0]),
        crop_top=float(crop[1]),
        crop_right=float(crop[2]),
        crop_bottom=float(crop[3]),
        resize=float(rng.uniform(0.8, 1.0)) if treatment == "messenger" else 1.0,
        jpeg_quality=int(rng.integers(72, 90)) if treatment == "messenger" else 90,
        noise=float(world.noise * np.exp(rng.normal(0, 0.4))),
        exposure_ev=float(np.clip(rng.normal(0, 0.3), -0.8, 0.8)),
        white_balance=float(np.clip(rng.normal(0, 0.06), -0.14, 0.14)),
        stored_rotated=bool(rng.random() < 0.2) and treatment == "original",
        exif_focal_35mm=round(nominal_35mm) if keeps else None,
        date_time="2025:06:15 12:00:00" if keeps else None,
    )
