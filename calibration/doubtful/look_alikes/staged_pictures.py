"""The rendered pictures of the third trial: what the child does, wears or stands beside."""

from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.solids import ball, box, path, ring, tube
from calibration.doubtful.look_alikes.staged import Staged, another
from calibration.doubtful.postures import Limb, Posture
from calibration.scenes.dress import Piece
from calibration.scenes.posing import Posed
from calibration.scenes.scene import Rgb, Scene

__all__ = ["STAGED"]

_RUBBER: Final[Rgb] = (0.02, 0.02, 0.02)
_STEEL: Final[Rgb] = (0.35, 0.36, 0.38)
_STONE: Final[Rgb] = (0.42, 0.41, 0.38)
_FUR: Final[Rgb] = (0.30, 0.17, 0.08)
_RED: Final[Rgb] = (0.45, 0.05, 0.04)
_BLUE: Final[Rgb] = (0.05, 0.12, 0.35)
_WOOD: Final[Rgb] = (0.35, 0.22, 0.10)
_WHITE: Final[Rgb] = (0.75, 0.73, 0.70)
_Place = NDArray[np.float64]


def _hips_mm(posed: Posed) -> _Place:
    return (posed.joint_mm("upperleg01.L") + posed.joint_mm("upperleg01.R")) / 2


def _crotch_mm(posed: Posed) -> _Place:
    place: _Place = posed.vertices_mm[posed.body.crotch_vertex]
    return place


def _foot_mm(posed: Posed, mark: str) -> _Place:
    return posed.joint_mm(f"foot.{mark}")


def _scooter(_: Scene, posed: Posed) -> list[Piece]:
    """Deck, two wheels, stem and handlebar; the higher foot stands on the deck."""
    x, y, z = min((_foot_mm(posed, mark) for mark in "LR"), key=lambda one: float(one[1]))
    near = np.abs(posed.vertices_mm[:, 0] - x) < 60.0
    top = float(posed.vertices_mm[near & (posed.vertices_mm[:, 1] > y), 1].max()) + 3.0
    front = z - 430.0
    return [
        box("deck", (x - 60, top, front + 60), (x + 60, top + 25, z + 170), _STEEL),
        ring("front", (x, -75, front), (1, 0, 0), (58, 17), _RUBBER),
        ring("rear", (x, -75, z + 215), (1, 0, 0), (58, 17), _RUBBER),
        tube("stem", (x, -100, front), (x, -790, front + 90), 18, _RED),
        tube("bar", (x - 210, -790, front + 90), (x + 210, -790, front + 90), 15, _RUBBER),
    ]


def _balance_bike(_: Scene, posed: Posed) -> list[Piece]:
    """A small bicycle without pedals between the legs, its saddle under the child."""
    x, y, z = _crotch_mm(posed)
    front, rear, radius = z - 430.0, z + 190.0, 135.0
    head = (x, y - 40, front + 110)
    return [
        ring("front", (x, -155, front), (1, 0, 0), (radius, 20), _RUBBER),
        ring("rear", (x, -155, rear), (1, 0, 0), (radius, 20), _RUBBER),
        tube("fork", (x, -155, front), head, 17, _BLUE),
        tube("frame", (x, y + 110, front + 70), (x, -155, rear), 22, _BLUE),
        tube("post", (x, y + 120, z + 60), (x, y + 15, z + 40), 14, _STEEL),
        ball("saddle", (x, y + 22, z + 30), (58, 20, 110), _RUBBER),
        tube("bar", (x - 190, y - 70, front + 120), (x + 190, y - 70, front + 120), 13, _RUBBER),
    ]


def _wheelchair(_: Scene, posed: Posed) -> list[Piece]:
    """Seat, back, two large wheels and the footplates."""
    x, y, z = _hips_mm(posed)
    feet = float(_foot_mm(posed, "L")[2])
    pieces = [
        box("seat", (x - 200, y + 78, z - 280), (x + 200, y + 108, z + 130), _RUBBER),
        box("back", (x - 200, y - 330, z + 120), (x + 200, y + 80, z + 145), _RUBBER),
    ]
    for side in (-1, 1):
        at = x + side * 245
        pieces += [
            ring("wheel", (at, -290, z + 60), (1, 0, 0), (275, 14), _RUBBER),
            ring("hand rim", (at + side * 32, -290, z + 60), (1, 0, 0), (245, 9), _STEEL),
            ring("castor", (x + side * 190, -60, feet + 90), (1, 0, 0), (45, 14), _RUBBER),
            tube("leg", (x + side * 190, -60, feet + 90), (at, y + 95, z - 250), 12, _STEEL),
            tube("arm rest", (at, y - 110, z - 180), (at, y - 110, z + 110), 18, _RUBBER),
        ]
    return pieces


def _swing(_: Scene, posed: Posed) -> list[Piece]:
    """A board on two ropes."""
    x, y, z = _hips_mm(posed)
    board = box("board", (x - 230, y + 74, z - 120), (x + 230, y + 98, z + 90), _WOOD)
    ropes = [
        tube("rope", (x + s * 205, y + 80, z - 20), (x + s * 205, y - 1150, z - 20), 9, _WHITE)
        for s in (-1, 1)
    ]
    return [board, *ropes]


def _crutches(_: Scene, posed: Posed) -> list[Piece]:
    """Two forearm crutches beside the child."""
    pieces = []
    for mark, side in (("L", 1), ("R", -1)):
        wrist, elbow = posed.joint_mm(f"wrist.{mark}"), posed.joint_mm(f"lowerarm01.{mark}")
        foot = np.array([wrist[0] + side * 60, -8.0, wrist[2] - 70])
        grip = wrist + np.array([0, 35, -20])
        cuff = elbow + np.array([side * 10, 30, -10])
        pieces += [
            tube("crutch", foot, grip, 12, _STEEL),
            tube("upper", grip, cuff, 12, _STEEL),
            tube("grip", grip + np.array([0, 0, -70]), grip + np.array([0, 0, 30]), 16, _RUBBER),
            ring("cuff", cuff, (0, 1, 0), (42, 7), _STEEL),
            ball("tip", foot, (20, 16, 20), _RUBBER),
        ]
    return pieces


def _bar_above(_: Scene, posed: Posed) -> list[Piece]:
    """A bar that both hands hold."""
    hands = (posed.joint_mm("wrist.L") + posed.joint_mm("wrist.R")) / 2
    y, z = float(hands[1]) - 55, float(hands[2])
    return [
        tube("bar", (hands[0] - 560, y, z), (hands[0] + 560, y, z), 15, _STEEL),
        *(
            tube("post", (hands[0] + s * 560, y, z), (hands[0] + s * 560, -2, z), 24, _BLUE)
            for s in (-1, 1)
        ),
    ]


def _plinth(_: Scene, posed: Posed) -> list[Piece]:
    """A stone block under both feet."""
    x, _y, z = (_foot_mm(posed, "L") + _foot_mm(posed, "R")) / 2
    low, high = (x - 210, -300, z - 230), (x + 210, 0, z + 130)
    rim = box("rim", (x - 235, -345, z - 255), (x + 235, -300, z + 155), _STONE)
    return [box("plinth", low, high, _STONE), rim]


def _of_stone(pieces: list[Piece]) -> list[Piece]:
    return [replace(one, rgb=np.tile(_STONE, (len(one.rgb), 1)), surface="plain") for one in pieces]


def _teddy(_: Scene, posed: Posed) -> list[Piece]:
    """A large plush bear that stands on two legs."""
    x, _y, z = (_foot_mm(posed, "L") + _foot_mm(posed, "R")) / 2
    pale: Rgb = (0.50, 0.36, 0.22)

    def fur(at: tuple[float, float, float], radii: tuple[float, float, float], rgb: Rgb) -> Piece:
        return ball("bear", (x + at[0], at[1], z + at[2]), radii, rgb, "hair")

    pieces = [
        fur((0, -430, 0), (165, 215, 135), _FUR),
        fur((0, -420, -60), (115, 155, 90), pale),
        fur((0, -735, -10), (140, 128, 120), _FUR),
        fur((0, -705, -115), (58, 46, 50), pale),
        ball("nose", (x, -722, z - 162), (20, 14, 12), _RUBBER, "eye"),
    ]
    for side in (-1, 1):
        pieces += [
            fur((105 * side, -845, 0), (52, 52, 28), _FUR),
            fur((185 * side, -500, -30), (62, 135, 60), _FUR),
            fur((95 * side, -150, -15), (80, 150, 80), _FUR),
            fur((98 * side, -45, -60), (74, 45, 105), _FUR),
            ball("eye", (x + 52 * side, -765, z - 118), (13, 13, 10), _RUBBER, "eye"),
        ]
    return pieces


def _nobody(_: list[Piece]) -> list[Piece]:
    return []


def _hanger(_: Scene, posed: Posed) -> list[Piece]:
    """A clothes hanger on a nail."""
    neck = posed.joint_mm("neck01")
    left, right = posed.joint_mm("upperarm01.L"), posed.joint_mm("upperarm01.R")
    top = neck + np.array([0, -40, 0])
    return [
        path("hanger", [left, top, right], 9, _WOOD),
        path(
            "hook",
            [
                top,
                top + np.array([0, -60, 0]),
                top + np.array([25, -85, 0]),
                top + np.array([0, -110, 0]),
            ],
            4,
            _STEEL,
        ),
    ]


def _only_clothes(pieces: list[Piece]) -> list[Piece]:
    return [one for one in pieces if one.name in ("legwear", "top")]


def _towel_ends(_: Scene, posed: Posed) -> list[Piece]:
    """A bath towel round the neck, both ends down to the knees before the body."""
    front = posed.vertices_mm[: posed.body.skin_count]
    x, shoulder = float(posed.joint_mm("neck01")[0]), posed.joint_mm("upperarm01.L")
    knee = float(posed.joint_mm("lowerleg01.L")[1])
    near = front[(np.abs(front[:, 0] - x) < 150) & (front[:, 1] < knee)]
    z = float(near[:, 2].min())
    cloth: Rgb = (0.10, 0.38, 0.42)
    down = float(shoulder[1])
    return [
        box("towel", (x - 172, down - 22, z - 26), (x - 3, knee + 20, z - 8), cloth, "stripes"),
        box("towel", (x + 2, down - 22, z - 24), (x + 170, knee - 35, z - 6), cloth, "stripes"),
        box("towel", (x - 172, down - 34, z - 24), (x + 170, down - 18, z + 190), cloth, "stripes"),
    ]


def _skates(_: Scene, posed: Posed) -> list[Piece]:
    """Frames with four rollers under both shoes."""
    pieces = []
    for mark in "LR":
        x, _y, z = _foot_mm(posed, mark)
        pieces.append(box("frame", (x - 26, -82, z - 150), (x + 26, -62, z + 60), _STEEL))
        for at in (-125, 35):
            for side in (-1, 1):
                hub = np.array([x + 36 * side, -32, z + at])
                pieces.append(
                    tube("roller", hub - np.array([15, 0, 0]), hub + np.array([15, 0, 0]), 31, _RED)
                )
    return pieces


def _tail(scene: Scene, posed: Posed) -> list[Piece]:
    """A costume's thick tail that hangs down behind the legs, of the trousers' colour."""
    x, y, z = _crotch_mm(posed)
    line = [(x, y - 90, z + 60), (x + 4, y + 60, z + 75), (x - 6, y + 220, z + 60)]
    line += [(x + 8, 0.35 * y, z + 50), (x, 0.16 * y, z + 40)]
    rgb = scene.dress.leg_rgb
    tip = ball("tip", (x, 0.14 * y, z + 40), (46, 60, 46), rgb, "plain")
    return [path("tail", line, 36, rgb, "plain"), tip]


def _ball_before(_: Scene, posed: Posed) -> list[Piece]:
    """A ball held with both hands before the lap."""
    x, y, z = _crotch_mm(posed)
    return [ball("ball", (x, y + 10, z - 195), (125, 125, 125), (0.55, 0.42, 0.04), "eye")]


def _carrier(scene: Scene, posed: Posed) -> list[Piece]:
    """A grown person under the child."""
    behind = float(_hips_mm(posed)[2])
    return another(scene, number=11, age_years=13.9, aside_mm=0, before_mm=-behind - 130)


def _hugged(scene: Scene, posed: Posed) -> list[Piece]:
    """Another child face to face with this one."""
    before = -float(_hips_mm(posed)[2]) + 190
    return another(scene, number=5, age_years=7.6, aside_mm=30, before_mm=before, turn_deg=174)


def _both_sides(scene: Scene, _: Posed) -> list[Piece]:
    left = another(scene, number=3, age_years=6.2, aside_mm=-330, before_mm=60, turn_deg=6)
    return left + another(scene, number=9, age_years=9.4, aside_mm=350, before_mm=40, turn_deg=-9)


def _dog(_: Scene, posed: Posed) -> list[Piece]:
    """A dog that sits before the child's legs."""
    x, _y, z = (_foot_mm(posed, "L") + _foot_mm(posed, "R")) / 2
    x, z = x + 30, z - 330

    def fur(at: tuple[float, float, float], radii: tuple[float, float, float]) -> Piece:
        return ball("dog", (x + at[0], at[1], z + at[2]), radii, _FUR, "hair")

    pieces = [
        fur((0, -190, 60), (125, 190, 150)),
        fur((0, -310, -10), (95, 140, 95)),
        fur((0, -490, -50), (78, 85, 88)),
        fur((0, -468, -130), (40, 38, 62)),
        ball("nose", (x, -480, z - 190), (17, 13, 11), _RUBBER, "eye"),
    ]
    for side in (-1, 1):
        pieces += [
            fur((78 * side, -490, -30), (22, 70, 42)),
            fur((52 * side, -150, -70), (32, 155, 34)),
            fur((55 * side, -22, -90), (38, 22, 52)),
            fur((125 * side, -95, 20), (60, 92, 110)),
            ball("eye", (x + 34 * side, -515, z - 122), (10, 10, 7), _RUBBER, "eye"),
        ]
    return pieces


def _pram(_: Scene, posed: Posed) -> list[Piece]:
    """A doll’s pram before the child."""
    x, _y, z = (_foot_mm(posed, "L") + _foot_mm(posed, "R")) / 2
    x, z = x + 20, z - 420
    tub = ball("tub", (x, -400, z), (200, 135, 260), _BLUE)
    hood = ball("hood", (x, -480, z - 60), (190, 200, 190), (0.04, 0.09, 0.28))
    pieces = [tub, hood]
    for side in (-1, 1):
        for at in (-190, 190):
            hub = (x + 185 * side, -125, z + at)
            pieces.append(ring("wheel", hub, (1, 0, 0), (108, 14), _RUBBER))
            pieces.append(tube("leg", hub, (x + 150 * side, -330, z - at / 2), 9, _STEEL))
        handle = (x + 165 * side, -690, z + 360)
        pieces.append(tube("push", (x + 180 * side, -400, z + 120), handle, 10, _STEEL))
    left, right = (x - 165, -690, z + 360), (x + 165, -690, z + 360)
    return [*pieces, tube("grip", left, right, 15, _RUBBER)]


_KNEELS: Final = Posture(Limb(0, 90, 150, 3), Limb(0, 90, 150, 3))
_LEGS_OUT: Final = Posture(Limb(88, 2, -78, 6), Limb(88, 2, -78, 6), trunk=-4, arms=26)
_ON_HEELS: Final = Posture(Limb(80, 168, 150, 4), Limb(80, 168, 150, 4), arms=14)
_SITS: Final = Posture(Limb(86, 82, 0, 5), Limb(86, 82, 0, 5), arms=24)
_DANGLES: Final = Posture(Limb(84, 62, -10, 4), Limb(84, 70, -6, 4), arms=32)
_SCOOTS: Final = Posture(Limb(), Limb(26, 38, 0, 2), arms=22)
_ASTRIDE: Final = Posture(Limb(4, 4, 0, 12), Limb(4, 4, 0, 12), trunk=6, arms=30)
_ONE_LEG: Final = Posture(Limb(), Limb(14, 62, 30, 2), arms=14)
_HANGS: Final = Posture(Limb(2, 4, 40, 2), Limb(4, 7, 44, 2), arms=166)
_BOWS: Final = Posture(Limb(2, 2, 0, 4), Limb(2, 2, 0, 4), trunk=52, arms=16)
_FEET_OUT: Final = Posture(Limb(22, 0, 0, 4), Limb(22, 0, 0, 4), arms=18)
_ARMS_OUT: Final = Posture(Limb(), Limb(), arms=38)
_ON_SHOULDERS: Final = Posture(Limb(80, 84, 0, 10), Limb(80, 84, 0, 10), arms=30)
_BARE: Final = {"footwear": "bare", "soles_mm": 0.0}

STAGED: Final = (
    Staged("kneels", 7.2, "snug", _KNEELS, "letter"),
    Staged("legs_out", 6.1, "shorts", _LEGS_OUT),
    Staged("on_heels", 8.8, "regular", _ON_HEELS, "sheet"),
    Staged("wheelchair", 9.6, "regular", _SITS, props=_wheelchair),
    Staged("swing", 7.7, "snug", _DANGLES, "letter", props=_swing, lift_mm=190.0),
    Staged("scooter", 6.8, "shorts", _SCOOTS, props=_scooter),
    Staged("balance_bike", 4.2, "snug", _ASTRIDE, "sheet", props=_balance_bike),
    Staged("crutches", 10.2, "regular", _ONE_LEG, "letter", props=_crutches),
    Staged("hangs_from_bar", 8.3, "snug", _HANGS, props=_bar_above, lift_mm=240.0),
    Staged("bows", 9.1, "snug", _BOWS, "letter"),
    Staged("feet_out", 7.9, "regular", _FEET_OUT),
    Staged("statue", 8.0, "shorts", props=_plinth, worn=_of_stone, lift_mm=345.0),
    Staged("teddy", 6.0, "snug", props=_teddy, worn=_nobody),
    Staged("clothes_alone", 7.0, "regular", _ARMS_OUT, "letter", _hanger, _only_clothes, None, 90),
    Staged(
        "ball_gown",
        8.6,
        "hidden",
        kind="letter",
        dress={"cover": "skirt", "cover_below_crotch_mm": 560.0, "cover_ease_mm": 90.0},
    ),
    Staged(
        "tutu",
        6.4,
        "hidden",
        dress={"cover": "skirt", "cover_below_crotch_mm": 55.0, "cover_ease_mm": 110.0},
    ),
    Staged(
        "culottes",
        9.9,
        "shorts",
        dress={"leg_hem_fraction": 0.95, "leg_flare_mm": 75.0, "leg_ease_mm": 24.0},
    ),
    Staged(
        "bath_towel",
        7.4,
        "shorts",
        kind="sheet",
        props=_towel_ends,
        dress={"leg_hem_fraction": 0.16, "leg_ease_mm": 4.0, "leg_flare_mm": 2.0, **_BARE},
    ),
    Staged(
        "swim_shorts",
        8.1,
        "shorts",
        kind="letter",
        dress={"leg_hem_fraction": 0.16, "leg_ease_mm": 3.0, "leg_flare_mm": 1.0, **_BARE},
    ),
    Staged("roller_skates", 9.3, "snug", props=_skates, lift_mm=63.0),
    Staged("costume_tail", 6.6, "snug", kind="letter", props=_tail),
    Staged("ball_before", 8.5, "regular", props=_ball_before),
    Staged("on_shoulders", 4.4, "snug", _ON_SHOULDERS, props=_carrier, lift_mm=940.0),
    Staged("face_to_face", 8.2, "snug", kind="letter", props=_hugged),
    Staged("three_in_a_row", 7.6, "shorts", kind="sheet", props=_both_sides),
    Staged("older_sister", 13.6, "snug"),
    Staged("dog_before", 8.9, "regular", kind="letter", props=_dog),
    Staged("pram_before", 5.8, "snug", props=_pram),
)
