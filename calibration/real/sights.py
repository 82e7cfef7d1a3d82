"""Each sight in real pictures against the clicks: rules, network, and what is chosen of both.

All in parts of the leg from hips to ankles, along it, downwards positive. A blunder is beyond 6 %
of a leg, as in `calibration.sights_net.score`.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.along_leg import parts_of_leg
from calibration.real.clicks import Clicked
from pose_fit.body.body import Body, PoseModel
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.sights.crotch import find_crotch
from pose_fit.sights.learned import find_learned, with_learned
from pose_fit.sights.legs_network import LegsNetwork, NetworkSight, legs_network
from pose_fit.sights.toes import find_toes

__all__ = ["SeenSights", "report", "see_sights"]

_BLUNDER: Final = 0.06
#: The network says that a sight is sure where this share of its distribution is in one place.
_SURE: Final = 0.5
#: A leg of fewer pixels than this is too small for the program's own limits on a child.
_LARGE_LEG_PX: Final = 200.0

#: Name in the table, and the same figures of rendered worlds left out (`sights_net.md`): median,
#: spread and blunders in per cent of a leg of 550 mm, None where they are not told.
_SIGHTS: Final[Mapping[str, tuple[float, float, float] | None]] = {
    "crotch: line by rule": (-1.7, 3.5, 16.0),
    "crotch: network, cloth": (-0.7, 2.0, 4.2),
    "crotch: network, cloth, sure": (-0.7, 2.0, 4.2),
    "crotch: network, skin": None,
    "crotch: most believed of line and skin": None,
    "toes: by rule": (2.7, 2.9, 15.9),
    "toes: network": (0.0, 0.6, 2.2),
    "toes: network, sure": None,
    "wall base: network": (0.0, 0.3, 1.6),
}


#: The same of rendered children in per cent of a leg, all of them and those of 10 years and more.
_HIPS_OVER_LINE: Final = (15.1, 13.5)


@dataclass(frozen=True, slots=True)
class SeenSights:
    """One person's errors by sight, in parts of the leg; a sight that was not found is absent.

    Attributes
    ----------
    clicks
        Second click less the first, by sight.
    possible
        The sights that were clicked, so that they could have been found.
    hips_over_crotch
        The pose model's hips above the clicked crotch, None where none was clicked.
    """

    name: str
    leg_px: float
    errors: Mapping[str, float]
    clicks: Mapping[str, float]
    possible: frozenset[str]
    hips_over_crotch: float | None


def see_sights(person: Clicked, photos: Path, pose: PoseModel) -> SeenSights | None:
    """What the finders say of one person, cut out of the picture; None without a pose."""
    photo, corner_px = _cut_out(read_photo(photos / person.picture.file), person.box_px)
    body = pose.find(photo)
    if body is None:
        return None
    along = partial(parts_of_leg, leg_px=body.ankles_px - body.hips_px)
    errors: dict[str, float] = {}
    clicks: dict[str, float] = {}
    possible: set[str] = set()
    hips_over_crotch = None
    if np.isfinite(person.crotch_px).all():
        possible.add("crotch")
        clicks["crotch"] = along(person.crotch_px[1] - person.crotch_px[0])
        true_px = person.crotch_px.mean(axis=0) - corner_px
        hips_over_crotch = along(true_px - body.hips_px)
        errors |= {name: along(at - true_px) for name, at in _crotches(photo, body).items()}
    if np.isfinite(person.toes_px).all():
        possible.add("toes")
        clicks["toes"] = along((person.toes_px[1] - person.toes_px[0]).mean(axis=0))
        true_px = person.toes_px.mean(axis=(0, 1)) - corner_px
        errors |= {name: along(at - true_px) for name, at in _toes(photo, body).items()}
    if np.isfinite(person.base_y_px).all():
        possible.add("wall base")
        clicks["wall base"] = float(np.diff(person.base_y_px)[0]) / body.leg_px
        seen = _network_sights(photo, body, legs_network())
        at_y = float(np.mean([seen[f"base_{side}"].point_px[1] for side in ("left", "right")]))
        true_y = float(person.base_y_px.mean()) - corner_px[1]
        errors["wall base: network"] = (at_y - true_y) / body.leg_px
    name = f"{person.picture.repository} {person.picture.path}"
    return SeenSights(name, body.leg_px, errors, clicks, frozenset(possible), hips_over_crotch)


def _cut_out(photo: Photo, box_px: tuple[int, int, int, int]) -> tuple[Photo, NDArray[np.float64]]:
    """The part of a picture as a photo of its own, and its first pixel in the whole picture."""
    scale = photo.working_scale
    left, top, right, bottom = (round(value / scale) for value in box_px)
    pixels = np.ascontiguousarray(photo.pixels[top:bottom, left:right])
    height, width = pixels.shape[:2]
    # The parts stay in working pixels times the scale, so that both are multiples of it.
    part = replace(
        photo,
        pixels=pixels,
        width_px=round(width * scale),
        height_px=round(height * scale),
    )
    return part, scale * np.array([left, top], float)


def _network_sights(photo: Photo, body: Body, network: LegsNetwork) -> dict[str, NetworkSight]:
    """As the network gives them, their places in upright pixels of the photo."""
    hips_px, ankles_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    seen = network.see(photo.pixels, hips_px, ankles_px)
    return {
        name: replace(one, point_px=photo.upright_px(one.point_px)) for name, one in seen.items()
    }


def _crotches(photo: Photo, body: Body) -> dict[str, NDArray[np.float64]]:
    lines = find_crotch(photo, body)
    seen = _network_sights(photo, body, legs_network())
    cloth = seen["cloth_crotch"]
    found = {
        "crotch: network, cloth": cloth.point_px,
        "crotch: network, skin": seen["crotch"].point_px,
    }
    if cloth.sureness >= _SURE:
        found["crotch: network, cloth, sure"] = cloth.point_px
    if lines:
        found["crotch: line by rule"] = lines[0].point_px
    fused = with_learned(lines, find_learned(photo, body), leg_px=body.leg_px)
    if fused:
        found["crotch: most believed of line and skin"] = fused[0].point_px
    return found


def _toes(photo: Photo, body: Body) -> dict[str, NDArray[np.float64]]:
    rule = find_toes(photo, body)
    seen = _network_sights(photo, body, legs_network())
    both = [seen["toe_left"], seen["toe_right"]]
    middle_px = np.mean([one.point_px for one in both], axis=0)
    found = {"toes: network": middle_px}
    if min(one.sureness for one in both) >= _SURE:
        found["toes: network, sure"] = middle_px
    if rule:
        found["toes: by rule"] = rule[0].points_px.mean(axis=0)
    return found


def report(people: Sequence[SeenSights]) -> str:
    """The table beside the clicks' own scatter and the worlds' figures, and each crotch."""
    large = [person for person in people if person.leg_px >= _LARGE_LEG_PX]
    lines = [
        "# Each sight in real pictures",
        "",
        "Made by `python -m calibration.real sights`. People in sample pictures of public vision"
        " libraries (`calibration/real/pictures.csv`; none is part of this repository), adults but"
        " for one. Crotch, toes and wall base were clicked by one reader by eye, from crops with a"
        " grid; the second time from other crops in another order, without sight of the first."
        " A clicked crotch is the cloth's. Errors are along the leg from hips to ankles, downwards"
        " positive, in per cent of it: 1 % is some 5 mm on a child. The spread is half of what lies"
        " between 16 and 84 %; a blunder is beyond 6 %. The worlds' figures are those of rendered"
        " worlds that the network did not see (`sights_net.md`).",
        "",
        f"Clicked: {_count(people, 'crotch')} crotches, {_count(people, 'toes')} pairs of toes,"
        f" {_count(people, 'wall base')} wall base, of {len(people)} people; {len(large)} of them"
        f" have legs of {_LARGE_LEG_PX:.0f} pixels or more.",
        "",
        *_clicks_lines(people),
        _hips_line(people),
        "",
        "| sight | people | found | median | spread | blunders | worlds: median | spread"
        " | blunders |",
        "|---|--:|--:|--:|--:|--:|--:|--:|--:|",
    ]
    for sight in _SIGHTS:
        lines.append(_row(sight, sight, people))
    for sight in _SIGHTS:
        if not sight.startswith("wall"):
            lines.append(_row(sight, f"{sight}, large legs", large))
    lines += ["", *LOOKED_AT, "", "## Crotches, in per cent of the leg", "", *_crotch_table(people)]
    return "\n".join(lines) + "\n"


#: What the figures say, written after they were made.
LOOKED_AT: Final = (
    "What this shows. The finders by rule hold in real pictures, and better than in the rendered"
    " worlds: a line between the legs, where one is found, ends within 3 % of where the legs visibly part, and the toes"
    " within 1 %. The network is worse there than in worlds that it did not see: the cloth's crotch"
    " is 2 to 3 % of the leg too high in the middle, one time in three beyond 6 %, and as often"
    " where it calls itself sure; its toes are 1 % too high. It saw rendered children only, and most"
    " of these people are adults in clothes of their own. So its belief in itself, set in rendered"
    " worlds, is too high for real pictures. Before it was shown bodies whose pelvis is not pressed flat it was"
    " worse: 4.2 % too high, 38 % beyond.",
    "",
    "What this does not show. The skin's crotch is under cloth and cannot be clicked: that row and"
    " the one after fusing, where it may be the skin's, show how far the guess lies above the cloth,"
    " 2 to 4 % in tight trousers and 7 to 19 % in loose ones. A reader clicks where a gap or line is"
    " seen to end, which is what the rule looks for too; where thighs touch, cloth may part some"
    " per cent higher, so that a part of the network's difference is the reader's. One reader, 21 crotches and people who"
    " walk, turn and pose are few and not the photo that is asked for. Skirts, long coats and people"
    " seen from the side were left out, since no crotch is to be seen. Only one picture has a wall"
    " base near the feet, so that nothing is said of it.",
)


def _count(people: Sequence[SeenSights], sight: str) -> int:
    return sum(sight in person.possible for person in people)


def _clicks_lines(people: Sequence[SeenSights]) -> list[str]:
    lines = []
    for sight in ("crotch", "toes"):
        apart = np.array([person.clicks[sight] for person in people if sight in person.clicks])
        # Two clicks differ by more than each of them is off.
        own = 100 * math.sqrt(float(np.mean(apart**2)) / 2)
        largest = 100 * float(np.abs(apart).max())
        lines.append(
            f"- The clicks' own scatter, {sight}: {own:.1f} % (root mean square of one click;"
            f" the two are {largest:.1f} % apart at most)."
        )
    return lines


def _hips_line(people: Sequence[SeenSights]) -> str:
    over = [100 * p.hips_over_crotch for p in people if p.hips_over_crotch is not None]
    low, middle, high = np.quantile(over, [0.16, 0.5, 0.84])
    return (
        f"- The pose model puts the hips {middle:.1f} % of the leg above the clicked crotch (spread"
        f" {(high - low) / 2:.1f} %); in rendered children {_HIPS_OVER_LINE[0]:.0f} % above the end of"
        f" the line between the legs, from 10 years on {_HIPS_OVER_LINE[1]:.0f} % (`sights_net.md`)."
    )


def _row(sight: str, name: str, people: Sequence[SeenSights]) -> str:
    part = sight.split(":")[0]
    errors = np.array([person.errors[sight] for person in people if sight in person.errors])
    could = _count(people, part)
    if not errors.size:
        return f"| {name} | {could} | 0 | | | | | | |"
    low, middle, high = 100 * np.quantile(errors, [0.16, 0.5, 0.84])
    blunders = 100 * float(np.mean(np.abs(errors) > _BLUNDER))
    worlds = _SIGHTS[sight]
    told = (
        "| |" if worlds is None else f"{worlds[0]:+.1f} % | {worlds[1]:.1f} % | {worlds[2]:.0f} %"
    )
    return (
        f"| {name} | {could} | {len(errors)} | {middle:+.1f} % | {(high - low) / 2:.1f} %"
        f" | {blunders:.0f} % | {told} |"
    )


def _crotch_table(people: Sequence[SeenSights]) -> list[str]:
    names = [sight for sight in _SIGHTS if sight.startswith("crotch") and "sure" not in sight]
    heads = " | ".join(name.removeprefix("crotch: ") for name in names)
    lines = [f"| picture | leg | clicks apart | {heads} |", "|---|--:|--:|" + "--:|" * len(names)]
    for person in people:
        if "crotch" in person.possible:
            told = " | ".join(
                f"{100 * person.errors[name]:+.1f}" if name in person.errors else "none"
                for name in names
            )
            lines.append(
                f"| {person.name} | {person.leg_px:.0f} px | {100 * person.clicks['crotch']:+.1f}"
                f" | {told} |"
            )
    return lines
