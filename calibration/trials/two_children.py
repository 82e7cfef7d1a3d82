"""How often pictures of two children of like legs are asked about, and those of one child.

python -m calibration.trials.two_children --bench DIR [--bench DIR ...]
"""

from itertools import combinations
from pathlib import Path
from typing import Annotated, Final

import typer

from calibration.scenes.truth import read_truths
from pose_fit.body.looks import PersonLooks, are_unlike, looks_of
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.photo.photo import read_photo

__all__ = ["report"]

#: Legs this much alike cannot be told apart by their inseam.
LIKE_LEGS_MM: Final = 25.0
_Seen = tuple[str, float, PersonLooks]


def seen_children(folder: Path, count: int) -> list[_Seen]:
    """(child, inseam in millimetres, looks) of the photos of the first children of a folder."""
    found: list[_Seen] = []
    for truth in read_truths(folder):
        child = f"{folder.name}/{truth['index']}"
        if len({name for name, _, _ in found} | {child}) > count:
            break
        photo = read_photo(folder / truth["photo"])
        body = pose_model().find(photo)
        if body is not None:
            found.append((child, float(truth["inseam_mm"]), looks_of(photo, body)))
    return found


def report(seen: list[_Seen]) -> str:
    """The shares of pairs that are asked about, as a page of Markdown."""
    same = [(one, two) for one, two in combinations(seen, 2) if one[0] == two[0]]
    like = [
        (one, two)
        for one, two in combinations(seen, 2)
        if one[0] != two[0] and abs(one[1] - two[1]) < LIKE_LEGS_MM
    ]
    lines = [
        "# Two children, or one",
        "",
        f"Made by `python -m calibration.trials.two_children`: {len(seen)} rendered photos of"
        f" {len({name for name, _, _ in seen})} children. Pairs of photos about which it is asked"
        " whether both show the same child; clothes count only on one day.",
        "",
        "| pairs | count | asked on one day | asked on other days |",
        "|---|--:|--:|--:|",
    ]
    for name, pairs in (
        ("of one child", same),
        (f"of two children, inseams within {LIKE_LEGS_MM:.0f} mm", like),
    ):
        asked = [
            sum(are_unlike(one[2], two[2], on_one_day=day) for one, two in pairs)
            for day in (True, False)
        ]
        cells = " | ".join(f"{count} ({count / max(len(pairs), 1):.0%})" for count in asked)
        lines.append(f"| {name} | {len(pairs)} | {cells} |")
    return "\n".join(lines) + "\n"


def main(
    bench: Annotated[list[Path], typer.Option(help="Folders of rendered photos and truths.")],
    count: Annotated[int, typer.Option(help="Children of each folder.")] = 8,
    out: Annotated[Path, typer.Option(help="The report.")] = Path(
        "calibration/results/two_children.md"
    ),
) -> None:
    """Look at the photos and write the report."""
    text = report([one for folder in bench for one in seen_children(folder, count)])
    out.write_text(text, "utf-8")
    typer.echo(text)


if __name__ == "__main__":
    typer.run(main)
