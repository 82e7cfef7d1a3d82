"""Draws the parameters of a scene, each scene from a generator of its own.

A scene depends on its seed, index and photo only, so it can be drawn alone and any
prefix of a series is balanced over the kinds of reference. The photos of one child
(same seed and index) share body, clothes, room and reference; stance, camera and film
are drawn for each.
"""

from dataclasses import replace
from typing import Final, Literal

import numpy as np
from numpy.random import Generator

from calibration.scenes.chance import clipped, cloth, near
from calibration.scenes.draw_reference import draw_reference, reference_kind
from calibration.scenes.scene import (
    Door,
    Dress,
    Film,
    Floor,
    Footwear,
    Legwear,
    Light,
    Paper,
    Person,
    Place,
    Rgb,
    Scene,
    Stance,
    Treatment,
    View,
    Wall,
)

__all__ = ["draw_scene"]

_WALL_PAINTS: Final[tuple[Rgb, ...]] = (
    (0.72, 0.70, 0.64),
    (0.60, 0.66, 0.70),
    (0.62, 0.68, 0.55),
    (0.74, 0.62, 0.45),
    (0.55, 0.50, 0.46),
    (0.40, 0.47, 0.55),
    (0.66, 0.50, 0.48),
    (0.45, 0.52, 0.43),
    (0.80, 0.78, 0.74),
    (0.30, 0.34, 0.40),
)
_SKINS: Final[tuple[Rgb, ...]] = (
    (0.62, 0.39, 0.29),
    (0.55, 0.33, 0.23),
    (0.45, 0.26, 0.17),
    (0.33, 0.18, 0.11),
    (0.20, 0.10, 0.06),
    (0.12, 0.06, 0.035),
    (0.66, 0.44, 0.35),
)
_HAIRS: Final[tuple[Rgb, ...]] = (
    (0.012, 0.009, 0.008),
    (0.03, 0.018, 0.010),
    (0.07, 0.035, 0.015),
    (0.16, 0.09, 0.04),
    (0.38, 0.26, 0.12),
    (0.20, 0.06, 0.02),
)


def draw_scene(*, seed: int, index: int, photo: int = 0, width_px: int, height_px: int) -> Scene:
    """The scene of a seed and index; ``photo`` counts the photos of the same child."""
    setup = np.random.default_rng((seed, index))
    shot = np.random.default_rng((seed, index, photo + 1))
    person = _draw_person(setup)
    place = _draw_place(setup)
    dress = _draw_dress(setup)
    reference = draw_reference(setup, kind=reference_kind(index), person=person)
    if isinstance(reference, Paper) and reference.kind != "sheet":
        place = _not_white(setup, place)
    stance = _draw_stance(shot, place=place, age_years=person.age_years)
    nominal_35mm = _draw_lens(shot, door=isinstance(reference, Door))
    return Scene(
        seed=seed,
        index=index,
        photo=photo,
        width_px=width_px,
        height_px=height_px,
        person=person,
        dress=dress,
        stance=stance,
        place=place,
        reference=reference,
        view=_draw_view(shot, nominal_35mm=nominal_35mm),
        film=_draw_film(shot, nominal_35mm=nominal_35mm),
    )


def _draw_person(rng: Generator) -> Person:
    sex: Literal["f", "m"] = "f" if rng.random() < 0.5 else "m"
    skin = int(rng.integers(len(_SKINS)))
    dark = 2 <= skin <= 5
    hair_choice = int(rng.integers(3 if dark else len(_HAIRS)))
    ancestry = rng.dirichlet((0.6, 0.6, 0.6))
    long_hair = rng.random() < (0.6 if sex == "f" else 0.12)
    return Person(
        age_years=round(float(rng.uniform(2, 14)), 2),
        sex=sex,
        stature_z=clipped(rng, 0, 1, -2.4, 2.4),
        femininity=float(rng.uniform(0.85, 1.0) if sex == "f" else rng.uniform(0.0, 0.15)),
        muscle=float(rng.beta(4, 4)),
        weight=float(rng.beta(2.5, 3)),
        proportions=float(rng.beta(1.5, 1.5)),
        ancestry=(float(ancestry[0]), float(ancestry[1]), float(ancestry[2])),
        upper_leg=clipped(rng, 0, 0.16, -0.4, 0.4),
        lower_leg=clipped(rng, 0, 0.16, -0.4, 0.4),
        crotch_height=clipped(rng, 0, 0.4, -0.9, 0.9),
        hip_height=clipped(rng, 0, 0.12, -0.3, 0.3),
        valgus=clipped(rng, 0, 0.2, -0.5, 0.5),
        thigh_girth=clipped(rng, 0, 0.25, -0.6, 0.6),
        calf_girth=clipped(rng, 0, 0.25, -0.6, 0.6),
        foot_length=clipped(rng, 0, 0.2, -0.5, 0.5),
        skin_rgb=near(rng, _SKINS[skin], 0.08),
        hair_rgb=near(rng, _HAIRS[hair_choice], 0.15),
        iris_rgb=(0.03, 0.015, 0.008) if dark or rng.random() < 0.5 else (0.06, 0.12, 0.2),
        hair="long" if long_hair else ("cropped" if rng.random() < 0.25 else "short"),
        hair_thickness_mm=float(rng.uniform(9, 24)),
        hair_length_mm=float(rng.uniform(10, 160)),
    )


def _draw_dress(rng: Generator) -> Dress:
    legwears: tuple[Legwear, ...] = ("snug", "regular", "shorts", "loose", "hidden")
    legwear = legwears[int(rng.choice(5, p=[0.33, 0.32, 0.19, 0.09, 0.07]))]
    cover: Literal["none", "skirt", "long_top"] = "none"
    if legwear == "hidden":
        cover = "skirt" if rng.random() < 0.5 else "long_top"
    footwear: Footwear = (
        "shoes" if rng.random() < 0.62 else ("bare" if rng.random() < 0.6 else "socks")
    )
    pattern = float(rng.random())
    loose = legwear == "loose"
    ease_mm = {"snug": (1, 3), "regular": (5, 13), "shorts": (5, 15), "loose": (17, 33)}.get(
        legwear, (1, 3)
    )
    flare_mm = {"snug": (0, 2), "regular": (4, 18), "shorts": (5, 25), "loose": (15, 40)}.get(
        legwear, (0, 2)
    )
    slack_mm = {"snug": (0, 2), "regular": (0, 10), "shorts": (0, 15), "loose": (5, 50)}.get(
        legwear, (0, 2)
    )
    fold_mm = {"snug": 0.5, "regular": 2.0, "shorts": 2.0, "loose": 5.0}.get(legwear, 0.5)
    return Dress(
        legwear=legwear,
        leg_ease_mm=float(rng.uniform(*ease_mm)),
        leg_flare_mm=float(rng.uniform(*flare_mm)),
        crotch_slack_mm=float(rng.uniform(*slack_mm)),
        fold_mm=float(fold_mm * rng.uniform(0.5, 1.3)),
        leg_hem_fraction=float(
            rng.uniform(0.75, 1.25) if legwear == "shorts" else rng.uniform(1.8, 1.97)
        ),
        leg_rgb=near(rng, (0.03, 0.05, 0.12), 0.4) if rng.random() < 0.4 else cloth(rng),
        leg_weave="denim" if not loose and rng.random() < 0.35 else "plain",
        cover=cover,
        cover_below_crotch_mm=float(rng.uniform(60, 230)),
        cover_ease_mm=float(rng.uniform(-12, 20)),
        top_ease_mm=float(rng.uniform(5, 16)),
        top_above_crotch_mm=float(rng.uniform(20, 65) if cover != "none" else rng.uniform(25, 130)),
        top_rgb=cloth(rng),
        top_second_rgb=cloth(rng),
        top_pattern="plain" if pattern < 0.6 else ("stripes" if pattern < 0.85 else "checks"),
        top_sleeve="long" if rng.random() < 0.4 else "short",
        footwear=footwear,
        soles_mm=round(float(rng.uniform(8, 30)), 1) if footwear == "shoes" else 0.0,
        shoe_rgb=cloth(rng),
        sole_rgb=(0.6, 0.6, 0.58) if rng.random() < 0.6 else (0.02, 0.02, 0.02),
        sock_rgb=(0.7, 0.7, 0.7) if rng.random() < 0.5 else cloth(rng),
    )


def _draw_place(rng: Generator) -> Place:
    outdoors = rng.random() < 0.25
    paint = near(rng, _WALL_PAINTS[int(rng.integers(len(_WALL_PAINTS)))])
    wood = near(rng, (0.28, 0.15, 0.07), 0.35)
    grey = near(rng, (0.35, 0.34, 0.32), 0.3)
    draw = float(rng.random())
    wall: Wall
    floors: tuple[Floor, ...]
    lights: tuple[Light, ...]
    if outdoors:
        wall = "brick" if draw < 0.45 else ("concrete" if draw < 0.75 else "planks")
        floors = ("concrete", "paving", "grass")
        floor: Floor = floors[int(rng.choice(3, p=[0.35, 0.45, 0.2]))]
        light: Light = "sun" if rng.random() < 0.45 else "overcast"
    else:
        wall = "paint" if draw < 0.65 else ("wallpaper" if draw < 0.85 else "planks")
        floors = ("planks", "tiles", "carpet")
        floor = floors[int(rng.choice(3, p=[0.5, 0.25, 0.25]))]
        lights = ("ceiling", "window", "lamps")
        light = lights[int(rng.choice(3, p=[0.35, 0.4, 0.25]))]
    wall_rgb = {
        "brick": near(rng, (0.30, 0.11, 0.07), 0.25),
        "concrete": grey,
        "planks": wood,
    }.get(wall, paint)
    floor_rgb = {
        "planks": near(rng, (0.30, 0.17, 0.08), 0.4),
        "tiles": near(rng, (0.50, 0.47, 0.42), 0.3),
        "carpet": cloth(rng),
        "grass": near(rng, (0.05, 0.13, 0.02), 0.2),
        "paving": near(rng, (0.30, 0.27, 0.24), 0.25),
    }.get(floor, grey)
    has_skirting = not outdoors and rng.random() < 0.8
    return Place(
        outdoors=outdoors,
        wall=wall,
        wall_rgb=wall_rgb,
        wall_second_rgb=near(rng, wall_rgb, 0.25),
        floor=floor,
        floor_rgb=floor_rgb,
        skirting_height_mm=float(rng.uniform(50, 130)) if has_skirting else 0.0,
        skirting_depth_mm=float(rng.uniform(8, 15)) if has_skirting else 0.0,
        skirting_rgb=(0.75, 0.74, 0.72) if rng.random() < 0.7 else wood,
        light=light,
        light_azimuth_deg=float(rng.uniform(-70, 70)),
        light_elevation_deg=float(rng.uniform(25, 65)),
        light_warmth=float(rng.uniform(-0.1, 0.35)),
        ambient=float(rng.uniform(0.15, 0.6)),
    )


def _not_white(rng: Generator, place: Place) -> Place:
    """A plain page needs a wall that is not white to be seen at all."""
    if place.wall not in ("paint", "wallpaper") or max(place.wall_rgb) < 0.5:
        return place
    scale = float(rng.uniform(0.25, 0.6)) / max(place.wall_rgb)
    red, green, blue = (value * scale for value in place.wall_rgb)
    red_2, green_2, blue_2 = (value * scale for value in place.wall_second_rgb)
    return replace(place, wall_rgb=(red, green, blue), wall_second_rgb=(red_2, green_2, blue_2))


def _draw_stance(rng: Generator, *, place: Place, age_years: float) -> Stance:
    off_wall = float(rng.random())
    if off_wall < 0.82:
        heel_gap_mm = place.skirting_depth_mm + float(rng.uniform(0, 6))
    elif off_wall < 0.87:
        heel_gap_mm = float(rng.uniform(20, 48))
    else:
        heel_gap_mm = float(rng.uniform(52, 100))
    spread = float(rng.random())
    if spread < 0.72:
        separation_mm = float(rng.uniform(100, 200))
    elif spread < 0.82:
        separation_mm = float(rng.uniform(55, 100))
    else:
        separation_mm = float(rng.uniform(200, 350))
    # Feet side by side at the closest; small children do not reach the widest.
    separation_mm = min(max(separation_mm, 52 + 2.5 * age_years), 160 + 22 * age_years)
    straight = rng.random() < 0.85
    return Stance(
        ankle_separation_mm=separation_mm,
        knee_bend_deg=float(abs(rng.normal(0, 2.5)) if straight else rng.uniform(4, 15)),
        turn_deg=clipped(rng, 0, 5 if rng.random() < 0.8 else 11, -20, 20),
        toe_out_deg=clipped(rng, 6, 5, -4, 20),
        heel_gap_mm=heel_gap_mm,
        arm_abduction_deg=float(rng.uniform(10, 32)),
        elbow_deg=float(rng.uniform(0, 25)),
        head_yaw_deg=clipped(rng, 0, 8, -25, 25),
        head_pitch_deg=clipped(rng, 0, 5, -12, 12),
        sideways_mm=float(rng.uniform(-40, 40)),
    )


def _draw_lens(rng: Generator, *, door: bool) -> float:
    """Nominal 35 mm-equivalent focal length: ultra-wide, main lens, or 2x."""
    lens = float(rng.random())
    if lens < 0.12:
        return float(rng.choice([13, 14, 16]))
    if lens < (0.92 if door else 0.84):
        return float(rng.choice([23, 24, 24, 25, 26, 26, 28]))
    return float(rng.choice([48, 50, 52]))


def _draw_view(rng: Generator, *, nominal_35mm: float) -> View:
    k1_sd, k1_cap = 0.008, 0.025
    if nominal_35mm < 20:
        k1_sd, k1_cap = 0.02, 0.05
    elif nominal_35mm > 40:
        k1_sd, k1_cap = 0.004, 0.015
    near = rng.random() < 0.8
    return View(
        distance_mm=float(rng.uniform(1800, 3200) if near else rng.uniform(1200, 4000)),
        height_mm=float(rng.uniform(650, 1250) if rng.random() < 0.65 else rng.uniform(500, 1700)),
        azimuth_deg=clipped(rng, 0, 5 if rng.random() < 0.8 else 12, -25, 25),
        roll_deg=clipped(rng, 0, 2, -7, 7),
        focal_35mm=nominal_35mm * (1 + clipped(rng, 0, 0.012, -0.035, 0.035)),
        k1=clipped(rng, -0.25 * k1_sd, k1_sd, -k1_cap, k1_cap),
        centre_shift_x=clipped(rng, 0, 0.004, -0.012, 0.012),
        centre_shift_y=clipped(rng, 0, 0.004, -0.012, 0.012),
        aim_shift_x=clipped(rng, 0, 0.35, -0.9, 0.9),
        aim_shift_y=clipped(rng, 0, 0.35, -0.9, 0.9),
        least_fill=float(rng.uniform(0.35, 0.65)),
        whole_body=bool(rng.random() < 0.93),
    )


def _draw_film(rng: Generator, *, nominal_35mm: float) -> Film:
    treatments: tuple[Treatment, ...] = ("original", "edited", "messenger", "stripped")
    treatment = treatments[int(rng.choice(4, p=[0.55, 0.08, 0.29, 0.08]))]
    cropped = treatment == "edited" or (treatment == "messenger" and rng.random() < 0.35)
    crop = rng.uniform(0.0, 0.14, 4) if cropped else np.zeros(4)
    keeps_exif = treatment in ("original", "edited")
    day = f"2025:{int(rng.integers(1, 13)):02d}:{int(rng.integers(1, 29)):02d}"
    hour = f"{int(rng.integers(8, 20)):02d}:{int(rng.integers(60)):02d}:{int(rng.integers(60)):02d}"
    return Film(
        treatment=treatment,
        crop_left=float(crop[0]),
        crop_top=float(crop[1]),
        crop_right=float(crop[2]),
        crop_bottom=float(crop[3]),
        resize=float(rng.uniform(0.8, 1.0)) if treatment == "messenger" else 1.0,
        jpeg_quality=int(rng.integers(60, 81))
        if treatment == "messenger"
        else int(rng.integers(84, 96)),
        noise=float(np.exp(rng.normal(np.log(0.004), 0.5))),
        blur_px=float(rng.uniform(0.15, 0.5)),
        exposure_ev=clipped(rng, 0, 0.25, -0.7, 0.7),
        white_balance=clipped(rng, 0, 0.05, -0.12, 0.12),
        stored_rotated=bool(rng.random() < 0.25) and treatment == "original",
        exif_focal_35mm=round(nominal_35mm) if keeps_exif else None,
        date_time=f"{day} {hour}" if keeps_exif else None,
    )
