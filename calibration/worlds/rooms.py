"""What stands around: furniture, doors ajar, boards, rugs, plants. Boxes and blobs, no Blender."""

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Final, Literal

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from calibration.scenes.box import BOX_SIDES, box_corners
from calibration.scenes.dress import Piece
from calibration.scenes.scene import Rgb

__all__ = ["Clutter", "Thing", "draw_clutter", "thing_pieces"]

ThingKind = Literal[
    "cupboard",
    "shelf",
    "sofa",
    "table",
    "door_ajar",
    "picture",
    "socket",
    "dado_rail",
    "second_board",
    "rug",
    "floor_strip",
    "plant",
    "crate",
    "wall_bars",
    "radiator",
    "person",
]

_WOODS: Final[tuple[Rgb, ...]] = (
    (0.32, 0.18, 0.08),
    (0.12, 0.06, 0.03),
    (0.55, 0.40, 0.24),
    (0.70, 0.68, 0.64),
    (0.06, 0.06, 0.07),
)


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing: its place along the wall, its size (x, y, z) and its colours, millimetres."""

    kind: ThingKind
    x_mm: float
    size_mm: tuple[float, float, float]
    rgb: Rgb
    second_rgb: Rgb
    turn_deg: float = 0.0
    seed: int = 0


Clutter = tuple[Thing, ...]


def draw_clutter(rng: Generator, *, kinds: tuple[ThingKind, ...], side: int) -> Clutter:
    """Things of the asked-for kinds; large ones stand on the ``side`` away from the reference.

    Places are beyond what a child with its reference takes; from some cameras part of them
    is out of the picture, as in people's photos.
    """
    things: list[Thing] = []
    edge = float(rng.uniform(420, 700))
    for kind in kinds:
        wood = _WOODS[int(rng.integers(len(_WOODS)))]
        cloth: Rgb = tuple(float(v) for v in rng.uniform(0.03, 0.5, 3))  # type: ignore[assignment]
        second: Rgb = tuple(float(v) for v in rng.uniform(0.03, 0.6, 3))  # type: ignore[assignment]
        seed = int(rng.integers(1 << 30))

        def size(
            wide: tuple[float, float],
            high: tuple[float, float],
            deep: tuple[float, float],
            rng: Generator = rng,
        ) -> tuple[float, float, float]:
            return float(rng.uniform(*wide)), float(rng.uniform(*high)), float(rng.uniform(*deep))

        sizes = {
            "cupboard": size((500, 1000), (700, 1900), (350, 550)),
            "shelf": size((400, 900), (900, 2000), (250, 350)),
            "sofa": size((900, 1800), (700, 850), (700, 850)),
            "table": size((500, 1100), (450, 750), (350, 600)),
            "door_ajar": size((720, 850), (1981, 2040), (38, 42)),
            "picture": size((250, 600), (250, 700), (15, 30)),
            "socket": size((80, 85), (80, 85), (8, 12)),
            "dado_rail": size((16000, 16000), (40, 80), (12, 25)),
            "second_board": size((16000, 16000), (12, 30), (18, 40)),
            "rug": size((1200, 2600), (8, 14), (900, 1800)),
            "floor_strip": size((16000, 16000), (1, 2), (40, 120)),
            "plant": size((300, 600), (500, 1300), (300, 500)),
            "crate": size((250, 500), (200, 450), (250, 400)),
            "wall_bars": size((800, 900), (2400, 2500), (120, 160)),
            "radiator": size((600, 1200), (450, 650), (90, 130)),
            "person": size((0, 1), (0, 1), (0, 1)),
        }
        extent = sizes[kind]
        x = 0.0
        if kind in ("picture", "socket"):
            x = float(rng.uniform(-900, 900))
        elif kind in ("rug", "floor_strip", "dado_rail", "second_board"):
            x = float(rng.uniform(-300, 300))
        else:
            x = side * (edge + extent[0] / 2)
            edge += extent[0] + float(rng.uniform(30, 300))
        if kind == "person":
            x = side * (edge + float(rng.uniform(80, 350)))
            edge += 700
        things.append(
            Thing(
                kind,
                x,
                extent,
                wood if kind not in ("sofa", "rug") else cloth,
                second,
                float(rng.uniform(15, 80)) if kind == "door_ajar" else 0.0,
                seed,
            )
        )
    return tuple(things)


def thing_pieces(thing: Thing, *, keep_off_mm: tuple[float, float]) -> list[Piece]:
    """The thing's meshes in the wall frame; what would hide ``keep_off_mm`` (x, x) moves aside."""
    wide, high, deep = thing.size_mm
    x = thing.x_mm
    low, highest = keep_off_mm
    flat = ("dado_rail", "second_board", "rug", "floor_strip")
    if thing.kind not in flat and x + wide / 2 > low and x - wide / 2 < highest:
        x = highest + wide / 2 + 30 if x >= (low + highest) / 2 else low - wide / 2 - 30
    box = _Boxes(x)
    rng = np.random.default_rng(thing.seed)
    match thing.kind:
        case "cupboard" | "radiator" | "crate":
            raised = 120.0 if thing.kind == "radiator" else 0.0
            box.add((-wide / 2, -raised - high, -deep), (wide / 2, -raised, 0), thing.rgb)
            doors = 2 if thing.kind == "cupboard" else 8 if thing.kind == "radiator" else 1
            for door in range(doors):
                left = -wide / 2 + wide * door / doors
                box.add(
                    (left + 6, -raised - high + 8, -deep - 4),
                    (left + wide / doors - 6, -raised - 8, -deep),
                    _dim(thing.rgb, 0.85 if door % 2 else 0.95),
                )
        case "shelf":
            box.add((-wide / 2, -high, -20), (wide / 2, 0, 0), _dim(thing.rgb, 0.5))
            for side in (-1, 1):
                box.add(
                    (side * wide / 2 - 10, -high, -deep), (side * wide / 2 + 10, 0, 0), thing.rgb
                )
            for row in range(int(high // 330) + 1):
                level = -40 - 330.0 * row
                box.add((-wide / 2, level - 18, -deep), (wide / 2, level, 0), thing.rgb)
                at = -wide / 2 + 20
                while at < wide / 2 - 60 and level - 300 > -high:
                    thick, tall = float(rng.uniform(12, 50)), float(rng.uniform(150, 280))
                    colour: Rgb = tuple(float(v) for v in rng.uniform(0.02, 0.6, 3))  # type: ignore[assignment]
                    box.add(
                        (at, level - 18 - tall, -deep + 30), (at + thick, level - 18, -20), colour
                    )
                    at += thick + (0 if rng.random() < 0.8 else 60)
        case "sofa":
            box.add((-wide / 2, -420, -deep), (wide / 2, -80, -150), thing.rgb)
            box.add((-wide / 2, -high, -220), (wide / 2, -80, 0), _dim(thing.rgb, 0.9))
            for side in (-1, 1):
                middle = side * (wide / 2 - 70)
                box.add((middle - 70, -600, -deep), (middle + 70, -60, 0), _dim(thing.rgb, 0.95))
        case "table":
            box.add((-wide / 2, -high, -deep), (wide / 2, -high + 25, 0), thing.rgb)
            for side in (-1, 1):
                for back in (0, 1):
                    corner = (side * (wide / 2 - 30), -40 - back * (deep - 80))
                    box.add(
                        (corner[0] - 20, -high, corner[1] - 20),
                        (corner[0] + 20, 0, corner[1] + 20),
                        thing.rgb,
                    )
        case "door_ajar":
            box.add((-wide / 2, -high, -1.5), (wide / 2, 0, 0), (0.02, 0.02, 0.022))
            for side in (-1, 1):
                middle = side * (wide / 2 + 32)
                box.add((middle - 32, -high - 64, -14), (middle + 32, 0, 0), thing.second_rgb)
            box.add((-wide / 2, -high - 64, -14), (wide / 2, -high, 0), thing.second_rgb)
            box.add(
                (0, -high, -deep),
                (wide, -7, 0),
                thing.rgb,
                at=(-wide / 2, -16.0),
                turn_deg=thing.turn_deg,
            )
        case "picture" | "socket":
            level = float(rng.uniform(1100, 1700)) if thing.kind == "picture" else 260.0
            box.add(
                (-wide / 2, -level - high / 2, -deep),
                (wide / 2, -level + high / 2, 0),
                thing.rgb if thing.kind == "picture" else (0.75, 0.75, 0.73),
            )
            if thing.kind == "picture":
                box.add(
                    (-wide / 2 + 25, -level - high / 2 + 25, -deep - 1),
                    (wide / 2 - 25, -level + high / 2 - 25, -deep),
                    thing.second_rgb,
                )
        case "dado_rail":
            level = float(rng.uniform(750, 1100))
            box.add((-wide / 2, -level - high, -deep), (wide / 2, -level, 0), thing.rgb)
        case "second_board":
            box.add((-wide / 2, -high, -deep), (wide / 2, 0, 0), thing.rgb)
        case "rug":
            start = float(rng.uniform(120, 600))
            box.add((-wide / 2, -2, -start - deep), (wide / 2, 0.5, -start), thing.rgb)
            box.add(
                (-wide / 2 + 70, -3, -start - deep + 70),
                (wide / 2 - 70, 0.5, -start - 70),
                thing.second_rgb,
            )
        case "floor_strip":
            start = float(rng.uniform(60, 500))
            box.add((-wide / 2, -1, -start - deep), (wide / 2, 0.5, -start), thing.second_rgb)
        case "plant":
            box.add((-120, -230, -280), (120, 0, -40), thing.rgb)
            for _ in range(70):
                leaf_mm = rng.normal(0, 1, 3) * [wide / 4, high / 5, 60] - [0, high * 0.62, 160]
                green: Rgb = (float(rng.uniform(0.01, 0.06)), float(rng.uniform(0.07, 0.2)), 0.02)
                box.add(
                    (leaf_mm[0] - 45, leaf_mm[1] - 22, min(leaf_mm[2], -30) - 10),
                    (leaf_mm[0] + 45, leaf_mm[1] + 22, min(leaf_mm[2], -30)),
                    green,
                    turn_deg=float(rng.uniform(-50, 50)),
                    about=(float(leaf_mm[0]), float(leaf_mm[2])),
                )
        case "wall_bars":
            for side in (-1, 1):
                middle = side * (wide / 2 - 20)
                box.add((middle - 20, -high, -deep), (middle + 20, 0, 0), thing.rgb)
            for row in range(14):
                level = -180.0 - 160 * row
                box.add((-wide / 2, level - 30, -deep), (wide / 2, level, -deep + 30), thing.rgb)
        case "person":
            pass
    return [box.piece(thing.kind)] if box.points else []


class _Boxes:
    """Flat-shaded boxes of one thing, gathered into one mesh."""

    def __init__(self, x_mm: float) -> None:
        self.x_mm = x_mm
        self.points: list[NDArray[np.float64]] = []
        self.rgb: list[Rgb] = []

    def add(
        self,
        low: tuple[float, float, float],
        high: tuple[float, float, float],
        rgb: Rgb,
        *,
        at: tuple[float, float] = (0.0, 0.0),
        turn_deg: float = 0.0,
        about: tuple[float, float] = (0.0, 0.0),
    ) -> None:
        """A box, turned about the vertical through ``about`` (x, z) and moved to ``at``."""
        corners = box_corners(low, high)
        c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
        x, z = corners[:, 0] - about[0], corners[:, 2] - about[1]
        corners[:, 0] = about[0] + c * x + s * z + at[0] + self.x_mm
        corners[:, 2] = about[1] - s * x + c * z + at[1]
        for side in BOX_SIDES:
            self.points.append(corners[list(side)])
            self.rgb.append(rgb)

    def piece(self, name: str) -> Piece:
        points = np.concatenate(self.points)
        count = len(self.points)
        return Piece(
            name=name,
            points_mm=points,
            faces=[[4 * i, 4 * i + 1, 4 * i + 2, 4 * i + 3] for i in range(count)],
            vertices=np.zeros(len(points), np.int64),
            rgb=np.repeat(np.array(self.rgb), 4, axis=0),
            surface="thing",
        )


def _dim(rgb: Rgb, share: float) -> Rgb:
    return share * rgb[0], share * rgb[1], share * rgb[2]
