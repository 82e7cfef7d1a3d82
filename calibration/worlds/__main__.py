"""Command line of the worlds.

python -m calibration.worlds bake STOCK
python -m calibration.worlds render STOCK OUT --children 40 --part 0 --parts 8
"""

import argparse
import json
import time
import traceback
from dataclasses import asdict, replace
from functools import cache
from pathlib import Path

import numpy as np

from calibration.worlds.bodies import Stock, bake_stock, load_stock
from calibration.worlds.draw import PHOTOS_A_CHILD, draw_world_scene
from calibration.worlds.people import Proportions, draw_proportions
from calibration.worlds.plain import PLAIN, draw_plain_scene, plain_person, proportions_of
from calibration.worlds.world import MIXED, MIXED_SEED, WORLDS, mixed_world
from calibration.worlds.world_scene import StockName, WorldScene

_CHILDREN_A_WORLD = 120
_MIXED_CHILDREN = (1200, 1000)
_SHAPES = 120
_PLAIN_CHILDREN = 200
_NAMED = {world.name: world for world in WORLDS}


def bake(stock: Path) -> None:
    """Write shapes and measured children: all that is drawn with the body model and tables."""
    from calibration.scenes.draw import draw_scene

    stock.mkdir(parents=True, exist_ok=True)
    people = []
    for index, age in enumerate(np.linspace(2.2, 13.9, _SHAPES)):
        person = draw_scene(seed=900, index=index, width_px=9, height_px=12).person
        girl = index % 2 == 0
        people.append(
            replace(
                person,
                age_years=round(float(age), 2),
                sex="f" if girl else "m",
                femininity=0.92 if girl else 0.08,
            )
        )
    bake_stock(people, stock / "shapes.npz")
    children = {
        world.name: [asdict(c) for c in draw_proportions(_CHILDREN_A_WORLD, seed=world.seed)]
        for world in WORLDS
    }
    mixed = [
        child
        for more, count in enumerate(_MIXED_CHILDREN)
        for child in draw_proportions(count, seed=MIXED_SEED + more)
    ]
    children[MIXED] = [asdict(c) for c in mixed]
    plain = [plain_person(index) for index in range(_PLAIN_CHILDREN)]
    bake_stock(plain, stock / "plain_shapes.npz")
    bodies = load_stock(stock / "plain_shapes.npz")
    children[PLAIN] = [
        asdict(proportions_of(person, bodies.body(index))) for index, person in enumerate(plain)
    ]
    (stock / "children.json").write_text(json.dumps(children, indent=0), encoding="utf-8")


def render(args: argparse.Namespace) -> None:
    """Render this process's share of the photos; what fails is told and left out."""
    from calibration.worlds.make import render_world, stage_world

    @cache
    def stock(name: StockName) -> Stock:
        return load_stock(args.stock / f"{name}.npz")

    drawn_children = json.loads((args.stock / "children.json").read_text(encoding="utf-8"))
    width_px, height_px = (int(part) for part in args.size.split("x"))
    names = args.worlds.split(",") if args.worlds else list(_NAMED)
    todo = [
        (index, name) for index in range(args.start, args.start + args.children) for name in names
    ]
    for index, name in todo[args.part :: args.parts]:
        child = Proportions(**drawn_children[name][index])
        body = None
        for photo in range(args.photos):
            began = time.monotonic()
            drawn = _drawn(name, index, photo, child, width_px, height_px)
            shapes = stock(drawn.stock)
            try:
                folder = _folder(args.out, drawn, with_book=args.book)
                if args.book and drawn.outfit.wear in ("skirt", "dress"):
                    continue
                file = f"{drawn.name}_book.json" if args.book else f"{drawn.name}.json"
                if (folder / file).exists():
                    continue
                if body is None:
                    body = drawn.body(shapes)
                made = stage_world(drawn, body=body, stock=stock("shapes"), with_book=args.book)
                staged = time.monotonic()
                lit, film = render_world(made, folder, samples=args.samples, on_gpu=args.gpu)
            except Exception:
                print(f"LEFT OUT {name} {index} {photo}", traceback.format_exc(), flush=True)
                continue
            print(
                f"PHOTO {name} {drawn.name} {drawn.outfit.wear}: staged"
                f" {staged - began:.1f} s, light {lit:.1f} s, film {film:.1f} s",
                flush=True,
            )


def _folder(out: Path, drawn: WorldScene, *, with_book: bool) -> Path:
    """Where a photo of this kind lies."""
    if with_book:
        return out / "book" / drawn.world
    return out / drawn.world if drawn.has_reference else out / drawn.world / "no_object"


def _drawn(
    name: str, index: int, photo: int, child: Proportions, width_px: int, height_px: int
) -> WorldScene:
    if name == PLAIN:
        return draw_plain_scene(
            index=index, photo=photo, child=child, width_px=width_px, height_px=height_px
        )
    world = mixed_world(index) if name == MIXED else _NAMED[name]
    return draw_world_scene(
        world, index=index, photo=photo, child=child, width_px=width_px, height_px=height_px
    )


def main() -> None:
    """Parse and run."""
    parser = argparse.ArgumentParser(description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    baking = commands.add_parser("bake")
    baking.add_argument("stock", type=Path)
    rendering = commands.add_parser("render")
    rendering.add_argument("stock", type=Path)
    rendering.add_argument("out", type=Path)
    rendering.add_argument("--children", type=int, default=1, help="children of each world")
    rendering.add_argument("--start", type=int, default=0, help="first child")
    rendering.add_argument("--photos", type=int, default=PHOTOS_A_CHILD)
    rendering.add_argument("--part", type=int, default=0)
    rendering.add_argument("--parts", type=int, default=1)
    rendering.add_argument("--worlds", default="", help="names, commas between; the six without it")
    rendering.add_argument("--size", default="900x1200")
    rendering.add_argument("--samples", type=int, default=64)
    rendering.add_argument("--gpu", action="store_true")
    rendering.add_argument("--book", action="store_true", help="a book between the legs")
    args = parser.parse_args()
    if args.command == "bake":
        bake(args.stock)
    else:
        render(args)


if __name__ == "__main__":
    main()
