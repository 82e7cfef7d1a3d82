"""The sample photos of the repository: kind conditions, and what a user has to type."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final, cast

from calibration.scenes.draw import draw_scene
from calibration.scenes.render import render_scene
from calibration.scenes.scene import Bar, Door, Legwear, Paper, ReferenceKind, Scene, Wheel

__all__ = ["SAMPLES", "Sample", "render_sample", "sample_scene"]

_SEED: Final = 41
_SIZE_PX: Final = (1200, 1600)


@dataclass(frozen=True, slots=True)
class Sample:
    """One sample: its file name and what is not left to the draw."""

    name: str
    kind: ReferenceKind
    legwear: Legwear
    age_years: float
    print_scale: float = 1.0
    ruler_mm: float | None = None


SAMPLES: Final = (
    Sample("sheet_1", "sheet", "snug", 6.4),
    Sample("sheet_2", "sheet", "regular", 9.2, print_scale=0.97, ruler_mm=174.5),
    Sample("sheet_3", "sheet", "shorts", 4.1),
    Sample("letter_1", "letter", "snug", 7.5),
    Sample("letter_2", "letter", "shorts", 11.3),
    Sample("a4_1", "a4", "regular", 5.2),
    Sample("door_1", "door", "snug", 8.6),
    Sample("door_2", "door", "regular", 5.8),
    Sample("wheel_1", "wheel", "snug", 6.9),
    Sample("wheel_2", "wheel", "shorts", 9.8),
    Sample("length_1", "length", "snug", 3.6),
)


def sample_scene(sample: Sample, *, index: int) -> Scene:
    """A drawn scene of the wanted kind, with everything doubtful taken out of it."""
    candidate = next(
        scene
        for scene in (
            draw_scene(seed=_SEED, index=number, width_px=_SIZE_PX[0], height_px=_SIZE_PX[1])
            for number in range(100 * index, 100 * index + 100)
        )
        if _kind(scene) == sample.kind and scene.dress.legwear == sample.legwear
    )
    stance, view, film = candidate.stance, candidate.view, candidate.film
    reference = candidate.reference
    if isinstance(reference, Paper):
        reference = replace(
            reference,
            print_scale=sample.print_scale,
            ruler_mm=sample.ruler_mm,
            gap_mm=min(reference.gap_mm, 140.0),
        )
    elif isinstance(reference, Wheel):
        reference = replace(
            reference,
            true_diameter_mm=reference.nominal_diameter_mm * 1.002,
            depth_offset_mm=reference.depth_offset_mm / 3,
        )
    elif isinstance(reference, Door):
        reference = replace(reference, height_mm=2032.0, recess_mm=4.0)
    return replace(
        candidate,
        person=replace(candidate.person, age_years=sample.age_years),
        reference=reference,
        stance=replace(
            stance,
            ankle_separation_mm=min(max(stance.ankle_separation_mm, 125.0), 185.0),
            knee_bend_deg=min(stance.knee_bend_deg, 2.0),
            turn_deg=max(min(stance.turn_deg, 4.0), -4.0),
            heel_gap_mm=candidate.place.skirting_depth_mm + 2.0,
        ),
        view=replace(
            view,
            # About two metres away, level at hip height; nearer where the child would be small.
            distance_mm=min(max(view.distance_mm, 2000.0), 2400.0),
            height_mm=min(max(view.height_mm, 600.0), 1000.0),
            azimuth_deg=view.azimuth_deg / 3,
            roll_deg=view.roll_deg / 2,
            focal_35mm=26.0,
            k1=view.k1 / 2,
            aim_shift_x=0.0,
            aim_shift_y=0.0,
            least_fill=0.52,
            whole_body=True,
        ),
        film=replace(
            film,
            treatment="original",
            crop_left=0.0,
            crop_top=0.0,
            crop_right=0.0,
            crop_bottom=0.0,
            resize=1.0,
            jpeg_quality=86,
            noise=min(film.noise, 0.003),
            exposure_ev=0.1,
            stored_rotated=False,
            exif_focal_35mm=26,
            # A picture without a day is one of today, so that the samples never grow old.
            date_time=None,
        ),
    )


def render_sample(sample: Sample, folder: Path, *, index: int, samples: int) -> None:
    """Renders ``NAME.jpg`` with a short ``NAME.json`` of what is true and what to type."""
    scene = sample_scene(sample, index=index)
    render_scene(scene, folder, samples=samples)
    full = folder / f"{scene.name}.json"
    truth = json.loads(full.read_text(encoding="utf-8"))
    full.unlink()
    (folder / f"{scene.name}.jpg").rename(folder / f"{sample.name}.jpg")
    short = _short_truth(truth, photo=f"{sample.name}.jpg")
    (folder / f"{sample.name}.json").write_text(
        json.dumps(short, indent=2) + "\n", encoding="utf-8"
    )


def _kind(scene: Scene) -> ReferenceKind:
    reference = scene.reference
    if isinstance(reference, Paper):
        return reference.kind
    kinds: dict[type, ReferenceKind] = {Door: "door", Wheel: "wheel", Bar: "length"}
    return kinds[type(reference)]


def _short_truth(truth: Mapping[str, Any], *, photo: str) -> dict[str, Any]:
    reference = truth["reference"]
    kind = cast(ReferenceKind, reference["kind"])
    size: str | None = None
    match kind:
        case "door":
            size = f"{reference['height_mm']:.0f}mm"
        case "wheel":
            size = reference["code"]
        case "length":
            size = f"{reference['length_mm']:.0f}mm"
    name = {"wheel": "edge", "length": "ends"}.get(kind, "corners")
    points = None
    if kind != "sheet":
        points = " ".join(f"{x:.0f},{y:.0f}" for x, y in reference["points_px"][name])
    arguments = ["--reference", kind]
    if size is not None:
        arguments += ["--size", size]
    if kind in ("door", "length"):
        arguments += ["--points", str(points)]
    if kind != "wheel" and reference["plane"] == "beside":
        arguments += ["--placement", "beside"]
    if reference.get("ruler_mm") is not None:
        arguments += ["--ruler", f"{reference['ruler_mm']:g}"]
    arguments += ["--soles", f"{truth['soles_mm']:g}", "--age", f"{truth['age_years']:g}"]
    arguments += ["--sex", truth["sex"], "--heels-down"]
    return {
        "photo": photo,
        "about": "rendered; no real child, and no real place",
        "age_years": truth["age_years"],
        "sex": truth["sex"],
        "inseam_mm": round(truth["inseam_mm"], 1),
        "stature_mm": round(truth["stature_mm"]),
        "soles_mm": truth["soles_mm"],
        "heels_down": True,
        "legwear": truth["legwear"],
        "reference": kind,
        "size": size,
        "placement": reference["plane"],
        "ruler_mm": reference.get("ruler_mm"),
        "points": points,
        "exif_focal_35mm": truth["exif_focal_35mm"],
        "arguments": arguments,
    }
