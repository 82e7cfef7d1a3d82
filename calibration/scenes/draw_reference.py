"""Draws the reference of a scene: its kind, its size, and where it stands or hangs."""

from typing import Final, Literal

import numpy as np
from numpy.random import Generator

from calibration.scenes.chance import clipped, cloth, near
from calibration.scenes.scene import Bar, Door, Paper, Person, Reference, ReferenceKind, Wheel
from pose_fit.reference.paper import PAPER_SIZE_MM
from pose_fit.reference.printed_sheet import RULER_MM

__all__ = ["KIND_SHARES", "TYRES_MM", "draw_reference", "reference_kind"]

#: Shares of the kinds of reference, per cent.
KIND_SHARES: Final[dict[ReferenceKind, float]] = {
    "sheet": 35.0,
    "wheel": 18.0,
    "letter": 13.0,
    "door": 15.0,
    "a4": 9.0,
    "length": 10.0,
}
#: Section width and bead seat diameter of common children's tyres, ISO 5775 code.
TYRES_MM: Final = (
    (47, 203),
    (40, 254),
    (40, 305),
    (47, 305),
    (47, 355),
    (47, 406),
    (54, 406),
    (47, 507),
    (50, 507),
    (50, 559),
)


def reference_kind(index: int) -> ReferenceKind:
    """Kind of the reference at an index: the one furthest behind its share."""
    counts = dict.fromkeys(KIND_SHARES, 0)
    kind: ReferenceKind = "sheet"
    for done in range(index + 1):
        kind = max(
            KIND_SHARES, key=lambda name: KIND_SHARES[name] / 100 * (done + 1) - counts[name]
        )
        counts[kind] += 1
    return kind


def draw_reference(rng: Generator, *, kind: ReferenceKind, person: Person) -> Reference:
    """A reference of a kind, sized and placed for the person."""
    side: Literal[-1, 1] = -1 if rng.random() < 0.5 else 1
    if kind in ("sheet", "letter", "a4"):
        return _draw_paper(rng, kind=kind, side=side)
    if kind == "door":
        height_mm = float(rng.choice([1981.0, 2032.0, 2040.0]))
        return Door(
            width_mm=float(rng.uniform(700, 850)),
            height_mm=height_mm,
            floor_gap_mm=float(rng.uniform(4, 9)),
            recess_mm=float(rng.uniform(0, 12)),
            rgb=near(rng, (0.72, 0.70, 0.66), 0.15)
            if rng.random() < 0.5
            else near(rng, (0.25, 0.13, 0.06), 0.4),
            frame_rgb=(0.7, 0.69, 0.66) if rng.random() < 0.6 else near(rng, (0.2, 0.11, 0.06)),
            side=side,
            gap_mm=float(rng.uniform(90, 250)),
            child_in_front=bool(rng.random() < 0.45),
            child_at=float(rng.uniform(0.35, 0.65)),
            panels=bool(rng.random() < 0.6),
        )
    if kind == "wheel":
        small = max(0, min(len(TYRES_MM) - 1, round((person.age_years - 2) * 0.75)))
        width_mm, bead_mm = TYRES_MM[
            int(np.clip(small + rng.integers(-3, 4), 0, len(TYRES_MM) - 1))
        ]
        nominal_mm = float(bead_mm + 2 * width_mm)
        return Wheel(
            code=f"{width_mm}-{bead_mm}",
            nominal_diameter_mm=nominal_mm,
            true_diameter_mm=nominal_mm * (1 + clipped(rng, 0, 0.007, -0.02, 0.02)),
            width_mm=float(width_mm),
            side=side,
            gap_mm=float(rng.uniform(40, 200)),
            depth_offset_mm=clipped(rng, 0, 30, -75, 75),
            yaw_deg=clipped(rng, 0, 2.5, -6, 6),
            lean_deg=clipped(rng, 0, 1.5, -4, 4),
            rim_rgb=(0.5, 0.5, 0.5) if rng.random() < 0.5 else cloth(rng),
        )
    plane: Literal["wall", "beside"] = "wall" if rng.random() < 0.5 else "beside"
    return Bar(
        length_mm=float(np.round(rng.uniform(600, 1000))),
        radius_mm=float(rng.uniform(8, 15)),
        plane=plane,
        side=side,
        gap_mm=float(rng.uniform(60, 200)),
        foot_height_mm=float(rng.uniform(0, 15)) if plane == "wall" else float(rng.uniform(0, 60)),
        depth_offset_mm=clipped(rng, 0, 30, -75, 75) if plane == "beside" else 0.0,
        roll_deg=clipped(rng, 0, 3, -8, 8),
        pitch_deg=clipped(rng, 0, 2, -5, 5) if plane == "beside" else 0.0,
        rgb=near(rng, (0.45, 0.28, 0.12), 0.4) if rng.random() < 0.5 else cloth(rng),
    )


def _draw_paper(
    rng: Generator, *, kind: Literal["sheet", "letter", "a4"], side: Literal[-1, 1]
) -> Paper:
    paper: Literal["letter", "a4"] = "letter" if rng.random() < 0.5 else "a4"
    print_scale, ruler_mm = 1.0, None
    if kind == "sheet":
        print_scale = 1 + clipped(rng, 0, 0.01, -0.03, 0.028)
        if rng.random() < 0.5:
            # A tape is read to half a millimetre.
            ruler_mm = float(np.round(2 * (RULER_MM * print_scale + rng.normal(0, 0.3))) / 2)
        # Drawn aside, so that every other draw stays what it was before sheets differed in size.
        cut = rng.spawn(1)[0]
    else:
        paper, cut = kind, rng
    width_mm, height_mm = (
        size_mm + clipped(cut, 0, 0.5, -1.5, 1.5) for size_mm in PAPER_SIZE_MM[paper]
    )
    return Paper(
        kind=kind,
        paper=paper,
        width_mm=width_mm,
        height_mm=height_mm,
        print_scale=print_scale,
        ruler_mm=ruler_mm,
        side=side,
        gap_mm=float(rng.uniform(60, 250)),
        middle_height_fraction=clipped(rng, 0.36, 0.09, 0.22, 0.62),
        roll_deg=clipped(rng, 0, 1.5, -5, 5),
    )
