"""How the photos of a world are drawn (those of the plain one: `plain`).

A world draws from generators of its own: photo, child and world decide, nothing else. Bodies
and who is photographed differ between worlds too: no child stands in two of them.
"""

from dataclasses import replace
from typing import Final, Literal

import numpy as np
from numpy.random import Generator

from calibration.scenes.draw import draw_scene
from calibration.scenes.draw_reference import draw_reference
from calibration.scenes.scene import Film, Paper, Place, ReferenceKind, Rgb, Scene
from calibration.worlds.draw_clothes import draw_clothes
from calibration.worlds.people import Proportions
from calibration.worlds.rooms import draw_clutter
from calibration.worlds.stances import StanceGroup, draw_stance
from calibration.worlds.world import World
from calibration.worlds.world_scene import WorldScene

__all__ = ["PHOTOS_A_CHILD", "draw_world_scene"]

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
    outfit, dress = draw_clothes(setup, world, base.dress)
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
