"""Each sight of the network, in the world its weights never saw, beside the program's first pick;
of hips, knees and ankles that is the pose model's own.

    python -m calibration observe --bench DATA --networks NETS
    python -m calibration.sights_net.score DATA NETS

``DATA`` holds a folder of photos and truths a world and what the program saw of them, with the
network left out of each world (``observations.pkl``); ``NETS/<world>.onnx`` the weights trained
without that world. The windows are those that the pose model's hips and ankles give. Errors are
along the leg, downwards positive, millimetres at the sight's own depth.
"""

import pickle
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps

from calibration.along_leg import parts_of_leg
from calibration.true_view import leg_down_px, true_px
from pose_fit.body.body import LEFT_LEG, RIGHT_LEG, Body
from pose_fit.sights.legs_network import LegsNetwork, NetworkSight, legs_network

_JOINTS: Final = ("hip", "knee", "ankle")
_WORLDS: Final = ("suit", "sewn", "draped", "leggings", "baggy", "summer", "plain")
#: The network says a sight is sure where this share of its distribution is in one place.
_SURE: Final = 0.5
#: An error beyond this, in parts of the leg, is a blunder.
_BLUNDER: Final = 0.06


@dataclass(frozen=True, slots=True)
class _Row:
    """Errors of one photo in parts of its leg, NaN where nothing was seen."""

    world: str
    stance: str
    legwear: str
    errors: Mapping[str, float]
    sureness: Mapping[str, float]
    leg_mm: float


def rows_of(data: Path, networks: Mapping[str, LegsNetwork]) -> Iterable[_Row]:
    """The photos in which the program found person and object."""
    seen = pickle.loads((data / "observations.pkl").read_bytes())
    for item in seen.values():
        if item.sights is None:
            continue
        truth = item.truth
        world = str(truth["world"])
        with Image.open(data / world / truth["photo"]) as image:
            picture = np.asarray(ImageOps.exif_transpose(image).convert("RGB"))
        body = _pose_alone(item.sights)
        net = networks[world].see(picture, body.hips_px, body.ankles_px)
        yield _Row(
            world,
            str(truth["stance_group"]),
            str(truth["legwear"]),
            _errors(truth, item.sights, net),
            {name: one.sureness for name, one in net.items()},
            float(truth["inseam_mm"]),
        )


def _errors(
    truth: Mapping[str, Any], sights: Any, net: Mapping[str, NetworkSight]
) -> dict[str, float]:
    leg_px = leg_down_px(truth)
    crotch = true_px(truth, "crotch")[0]
    cloth = truth["cloth_crotch_px"]
    toes = true_px(truth, "shod_toe_left", "shod_toe_right")
    heels = true_px(truth, "shod_heel_left", "shod_heel_right")
    base = np.array(truth["wall_base_px"])
    base = base[np.argsort(base[:, 0])]

    def apart(point: NDArray[np.float64], true: NDArray[np.float64]) -> float:
        return parts_of_leg(np.asarray(point) - true, leg_px)

    def off_base(point: NDArray[np.float64]) -> float:
        row = float(np.interp(point[0], base[:, 0], base[:, 1]))
        return parts_of_leg(np.array([0.0, point[1] - row]), leg_px)

    errors = {
        "net crotch": apart(net["crotch"].point_px, crotch),
        "net toes": float(
            np.mean(
                [
                    apart(net[f"toe_{side}"].point_px, toe)
                    for side, toe in zip(("right", "left"), toes, strict=True)
                ]
            )
        ),
        "net heels": float(
            np.mean(
                [
                    apart(net[f"heel_{side}"].point_px, heel)
                    for side, heel in zip(("right", "left"), heels, strict=True)
                ]
            )
        ),
        "net base": float(
            np.mean([off_base(net[f"base_{s}"].point_px) for s in ("left", "right")])
        ),
    }
    alone = _pose_alone(sights)
    for joint, *pair in zip(_JOINTS, LEFT_LEG, RIGHT_LEG, strict=True):
        true = true_px(truth, f"{joint}_left", f"{joint}_right")
        # The child's left is on the picture's right.
        seen = [net[f"{joint}_{side}"].point_px for side in ("right", "left")]
        pose = alone.points_px(tuple(pair))
        errors[f"net {joint}s"] = apart(np.mean(seen, axis=0), true.mean(axis=0))
        errors[f"first pick {joint}s"] = apart(pose.mean(axis=0), true.mean(axis=0))
    if cloth is not None:
        errors["net cloth crotch"] = apart(net["cloth_crotch"].point_px, np.array(cloth))
    if sights.crotch is not None:
        errors["first pick crotch"] = apart(sights.crotch.point_px, crotch)
        if cloth is not None:
            errors["first pick cloth crotch"] = apart(sights.crotch.point_px, np.array(cloth))
    if sights.toes_px is not None:
        errors["first pick toes"] = apart(sights.toes_px.mean(axis=0), toes.mean(axis=0))
    if sights.wall_base_px is not None:
        errors["first pick base"] = float(np.mean([off_base(p) for p in sights.wall_base_px]))
    return errors


def _pose_alone(sights: Any) -> Body:
    """The body as the pose model alone sees it: by it the network's window is cut."""
    body: Body = sights.seen_body or sights.body
    return body


def table(rows: list[_Row]) -> list[str]:
    """Lines of a Markdown table, a sight and world each."""
    lines = [
        "| sight | world | photos | median | spread (16 to 84 %) | blunders | seen |",
        "|---|---|--:|--:|--:|--:|--:|",
    ]
    for sight in (
        "cloth crotch",
        "crotch",
        "toes",
        "heels",
        "base",
        *(f"{joint}s" for joint in _JOINTS),
    ):
        for world in (*_WORLDS, "all"):
            own = [row for row in rows if world in (row.world, "all")]
            if sight.endswith("crotch"):
                own = [row for row in own if row.legwear != "hidden"]
            for who in ("first pick", "net", "net, sure"):
                found = np.array([_error(row, who, sight) for row in own])
                known = found[np.isfinite(found)]
                if len(known) < 5:
                    continue
                low, middle, high = np.quantile(known, [0.16, 0.5, 0.84])
                leg_mm = float(np.median([row.leg_mm for row in own]))
                lines.append(
                    f"| {sight}: {who} | {world} | {len(own)} | {leg_mm * middle:+.1f} mm"
                    f" | {leg_mm * (high - low) / 2:.1f} mm"
                    f" | {100 * np.mean(np.abs(known) > _BLUNDER):.1f} %"
                    f" | {100 * len(known) / len(own):.0f} % |"
                )
    return lines


def _error(row: _Row, who: str, sight: str) -> float:
    """Error in parts of the leg; NaN where the sight is not to be had or, asked to be, not sure."""
    if who != "net, sure":
        return row.errors.get(f"{who} {sight}", np.nan)
    names = {
        "cloth crotch": ("cloth_crotch",),
        "crotch": ("crotch",),
        "toes": ("toe_left", "toe_right"),
        "heels": ("heel_left", "heel_right"),
        "base": ("base_left", "base_right"),
        **{f"{joint}s": (f"{joint}_left", f"{joint}_right") for joint in _JOINTS},
    }[sight]
    if min(row.sureness[name] for name in names) < _SURE:
        return np.nan
    return row.errors.get(f"net {sight}", np.nan)


#: Children of this age and above are told apart: their proportions are nearer to adults'.
_OLDER_Y: Final = 10.0


def hips_over_line(data: Path) -> str:
    """How far over the end of the line between the legs the pose model puts the hips, in words.

    The same can be seen in real people (:mod:`calibration.real.sights`).
    """
    parts: list[tuple[float, float]] = []
    for item in pickle.loads((data / "observations.pkl").read_bytes()).values():
        lines = [] if item.sights is None else [c for c in item.sights.crotches if c.kind == "line"]
        if lines:
            body = _pose_alone(item.sights)
            leg_px = body.ankles_px - body.hips_px
            part = parts_of_leg(lines[0].point_px - body.hips_px, leg_px)
            parts.append((float(item.truth["age_years"]), part))
    ages, over = np.array(parts).T

    def told(values: NDArray[np.float64]) -> str:
        low, middle, high = 100 * np.quantile(values, [0.16, 0.5, 0.84])
        return f"{middle:.1f} % of a leg (spread {(high - low) / 2:.1f}; {len(values)} photos)"

    return (
        "The pose model puts the hips over the end of the line between the legs by"
        f" {told(over)}, from {_OLDER_Y:.0f} years on by {told(over[ages >= _OLDER_Y])}."
    )


def main() -> None:
    """Score all worlds that were observed and print the table."""
    data, nets = Path(sys.argv[1]), Path(sys.argv[2])
    networks = {world: legs_network(nets / f"{world}.onnx") for world in _WORLDS}
    print("\n".join(table(list(rows_of(data, networks)))))
    print(f"\n{hips_over_line(data)}")


if __name__ == "__main__":
    main()
