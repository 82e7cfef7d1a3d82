"""The plain world: the bench's own scenes, with bodies as the body model makes them.

All other worlds stretch the bodies to the heights of measured children. Here nothing is stretched,
so that what is learned does not hold for stretched bodies alone.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from calibration.scenes.body import SKIN_VERTICES, Body
from calibration.scenes.draw import draw_scene
from calibration.scenes.posing import erect_joints_mm, inseam_mm
from calibration.scenes.scene import Dress, Person, Scene
from calibration.worlds.hips import measured_hip_mm
from calibration.worlds.outfits import Outfit, Wear
from calibration.worlds.people import Proportions
from calibration.worlds.stances import StanceGroup, draw_stance
from calibration.worlds.world_scene import WorldScene

__all__ = [
    "PLAIN",
    "PLAIN_SEED",
    "draw_plain_scene",
    "plain_person",
    "proportions_of",
]

#: Name and seed of the world.
PLAIN: Final = "plain"
PLAIN_SEED: Final = 109
_WEARS: Final[Mapping[str, Wear]] = {
    "snug": "slim trousers",
    "regular": "straight trousers",
    "shorts": "shorts",
    "loose": "joggers",
    "skirt": "skirt",
    "long_top": "tunic",
}


def plain_person(index: int) -> Person:
    """Child number ``index``."""
    return draw_scene(seed=PLAIN_SEED, index=index, width_px=9, height_px=12).person


def proportions_of(person: Person, body: Body) -> Proportions:
    """The body's own heights, standing erect; the hip joint's as in :mod:`calibration.worlds.hips`."""
    is_foot = body.parts.bones_weight("foot", "toe")[:SKIN_VERTICES] > 0.5
    skin = body.vertices_mm[:SKIN_VERTICES]
    left = skin[is_foot & (skin[:, 0] > 0)]
    joints = erect_joints_mm(body)
    crotch_mm = inseam_mm(body)
    return Proportions(
        sex=person.sex,
        age_years=person.age_years,
        stature_mm=round(float(np.ptp(skin[:, 1])), 1),
        inseam_mm=round(crotch_mm, 1),
        hip_mm=round(measured_hip_mm(crotch_mm), 1),
        knee_mm=round(joints["knee"], 1),
        ankle_mm=round(joints["ankle"], 1),
        foot_length_mm=round(float(np.ptp(left[:, 2])), 1),
    )


def draw_plain_scene(
    *, index: int, photo: int, child: Proportions, width_px: int, height_px: int
) -> WorldScene:
    """A photo of child number ``index``, whose body is the model's own."""
    scene = draw_scene(
        seed=PLAIN_SEED, index=index, photo=photo, width_px=width_px, height_px=height_px
    )
    shot = np.random.default_rng((PLAIN_SEED, index, photo + 1, 1))
    group: StanceGroup = "asked" if photo % 2 == 0 else "free"
    stance = draw_stance(shot, group=group, age_years=child.age_years)
    return WorldScene(
        world=PLAIN,
        dressed_as=PLAIN,
        scene=replace(scene, stance=stance),
        proportions=child,
        shape_pick=index,
        stance_group=group,
        seat_at_wall=group == "asked" and bool(shot.random() < 0.75),
        outfit=_outfit(scene),
        clutter=(),
        has_reference=True,
        stock="plain_shapes",
    )


def _outfit(scene: Scene) -> Outfit:
    """What the bench's clothes are in the words of the worlds."""
    dress: Dress = scene.dress
    hidden = dress.legwear == "hidden"
    return Outfit(
        style="own",
        wear=_WEARS[dress.cover if hidden else dress.legwear],
        ease_mm=dress.leg_ease_mm,
        flare_mm=dress.leg_flare_mm,
        drop_mm=dress.crotch_slack_mm,
        hem_fraction=dress.leg_hem_fraction,
        fold_mm=dress.fold_mm,
        stack_mm=0.0,
        print_kind="none",
        print_rgb=dress.leg_rgb,
        top_hem_mm=dress.cover_below_crotch_mm if hidden else -dress.top_above_crotch_mm,
        boxy=False,
        top_print=dress.top_pattern,
        shoe_longer_mm=0.0,
        seed=scene.index,
    )
