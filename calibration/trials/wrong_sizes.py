"""Rendered photos measured under each wrong neighbour of their object's size.

python -m calibration.trials.wrong_sizes --bench DIR [--bench DIR ...]

Each photo is measured with its right size and with each neighbour stated instead; of every
second child the age and sex are stated as well. A number that misses the truth without a word
about size or child is a silent miss. Nothing of the program was fitted on these counts.
``--note`` says in the report which photos these are, and whether a rule was ever drawn from them.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Annotated, Any, Final

import numpy as np
import typer

from calibration.observe import request_for, stated_of, wheel_request
from calibration.scenes.truth import read_truths
from calibration.score.population import NO_BICYCLE, Shop, shop_of
from pose_fit.anthropometry.child import Child
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.measure import measure_photo
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.photo.photo import read_photo
from pose_fit.reference.from_points import DOOR_HEIGHTS_MM
from pose_fit.reference.printed_sheet import RULER_MM
from pose_fit.reference.request import ReferenceRequest
from pose_fit.reference.size_hypotheses import BEAD_SEATS_MM
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask

__all__ = ["Outcome", "neighbours", "report"]

#: Words about the size, or about a child who does not go with it.
TOLD: Final = frozenset(
    {
        "size_on_trust",
        "print_scale_unknown",
        "print_scale_differs",
        "door_height_assumed",
        "inseam_unusual",
        "inseam_rare",
    }
)
#: Refusals that came with the weighing of sizes and the questions about points.
NEW_REFUSALS: Final = frozenset(
    {"size_unsure", "points_on_border", "points_on_person", "camera_nowhere", "person_unlikely"}
)
#: What "fit to page" makes of a sheet.
_SHRUNK: Final = (0.97, 0.94)


@dataclass(frozen=True, slots=True)
class Outcome:
    """One photo under one stated size; ``inseam_mm`` is None where there is no number."""

    photo: str
    kind: str
    stated: str
    is_right: bool
    is_aged: bool
    true_mm: float
    inseam_mm: float | None
    sd_mm: float | None
    codes: tuple[str, ...]

    @property
    def missed(self) -> bool:
        """A number whose 95 % interval does not hold the truth."""
        if self.inseam_mm is None or self.sd_mm is None:
            return False
        return abs(self.inseam_mm - self.true_mm) > COVERAGE_FACTOR_95 * self.sd_mm

    @property
    def missed_in_silence(self) -> bool:
        """Missed, with no word about size or child."""
        return self.missed and not TOLD & set(self.codes)


def neighbours(right: ReferenceRequest) -> Iterator[tuple[str, ReferenceRequest]]:
    """The wrong sizes somebody might state in place of the right one."""
    match right.kind:
        case "letter":
            yield "a4", replace(right, kind="a4")
        case "a4":
            yield "letter", replace(right, kind="letter")
        case "sheet":
            yield "ruler unread", replace(right, ruler_mm=None)
            # A sheet printed at 94 % and told as true to scale is this sheet told as 1/0.94 of what
            # it is: all that is seen and told of it is the same but for one common factor.
            for scale in _SHRUNK:
                true_mm = right.ruler_mm or RULER_MM
                yield f"printed at {scale:.0%}", replace(right, ruler_mm=true_mm / scale)
        case "door":
            assert right.size_mm is not None
            for usual in DOOR_HEIGHTS_MM:
                if abs(usual.height_mm - right.size_mm) > 3:
                    yield f"{usual.height_mm:.0f} mm", replace(right, size_mm=usual.height_mm)
        case "wheel":
            assert right.size_mm is not None
            assert right.width_mm is not None
            width, seat = round(right.width_mm), round(right.size_mm - 2 * right.width_mm)
            smaller = [one for one in BEAD_SEATS_MM if one < seat - 3][-1:]
            larger = [one for one in BEAD_SEATS_MM if one > seat + 3][:1]
            codes = [f"{width}-{other:.0f}" for other in smaller + larger]
            codes += [f"{other}-{seat}" for other in (width - 10, width + 10) if other >= 20]
            for code in codes:
                yield code, wheel_request(code)


def _outcomes(folder: Path, truth: Mapping[str, Any]) -> list[Outcome]:
    photo = read_photo(folder / truth["photo"])
    # One look at the picture serves for all sizes.
    pose = BodyOnce(pose_model())
    right = request_for(truth, photo)
    is_aged = truth["index"] % 2 == 0
    child = Child(age_y=truth["age_years"], sex=truth["sex"]) if is_aged else Child()
    found = []
    for name, request in (("right", right), *neighbours(right)):
        result = measure_photo(photo, PhotoTask(request, stated_of(truth), child), pose=pose)
        is_number = not isinstance(result, Refusal)
        notices = result.reasons if isinstance(result, Refusal) else result.inseam.warnings
        found.append(
            Outcome(
                photo=f"{folder.name}/{truth['photo']}",
                kind=right.kind,
                stated=name,
                is_right=name == "right",
                is_aged=is_aged,
                true_mm=float(truth["inseam_mm"]),
                inseam_mm=result.inseam.mean_mm if not isinstance(result, Refusal) else None,
                sd_mm=result.inseam.sd_mm if not isinstance(result, Refusal) else None,
                codes=tuple(notice.code for notice in notices),
            )
        )
        if name == "right" and not is_number and not NEW_REFUSALS & set(found[0].codes):
            # What cannot be measured at all says nothing of sizes.
            break
    return found


def _chosen(folder: Path, count: int, kinds: Sequence[str]) -> list[dict[str, Any]]:
    truths = [truth for truth in read_truths(folder) if truth["reference"]["kind"] in kinds]
    step = max(1, len(truths) // count)
    return truths[::step][:count]


def report(outcomes: Sequence[Outcome], shop: Shop, *, note: str = "") -> str:
    """The figures as a page of Markdown, with ``note`` on the photos they are of."""
    wrong = [one for one in outcomes if not one.is_right]
    right = [one for one in outcomes if one.is_right]
    lines = [
        "# Wrong neighbour sizes",
        "",
        "Made by `python -m calibration.trials.wrong_sizes`. A *silent miss* is a number whose 95 %"
        " interval misses the truth without a word about size or child. Every second child’s age"
        " and sex were stated.",
        "",
        *((note, "") if note else ()),
        "| object | stated | cases | no number | told of | silent misses | advised onto a bar it touches |",
        "|---|---|--:|--:|--:|--:|--:|",
    ]
    kinds = sorted({one.kind for one in outcomes})
    for name, group in (("wrong", wrong), ("right", right)):
        for kind in (*kinds, None):
            some = [one for one in group if kind is None or one.kind == kind]
            if some:
                lines.append(_row(kind or "all", name, some, shop))
    newly = [one for one in right if one.inseam_mm is None and NEW_REFUSALS & set(one.codes)]
    lines += [
        "",
        f"Right size: {len(newly)} of {len(right)} photos refused for what this weighing and the"
        f" questions about points added: {', '.join(sorted({c for one in newly for c in one.codes})) or 'none'}.",
        "",
        "Silent misses: "
        + ("; ".join(_told(one) for one in wrong if one.missed_in_silence) or "none")
        + ".",
        "",
        "Advised onto a bar it touches: "
        + ("; ".join(_told(one) for one in wrong if _touching([one], shop)) or "none")
        + ".",
    ]
    return "\n".join(lines) + "\n"


def _told(one: Outcome) -> str:
    assert one.inseam_mm is not None
    assert one.sd_mm is not None
    return (
        f"{one.photo} as {one.stated}: {one.inseam_mm:.0f} ± {COVERAGE_FACTOR_95 * one.sd_mm:.0f},"
        f" truth {one.true_mm:.0f}"
    )


def _row(kind: str, name: str, some: Sequence[Outcome], shop: Shop) -> str:
    without = sum(one.inseam_mm is None for one in some)
    told = sum(one.inseam_mm is not None and bool(TOLD & set(one.codes)) for one in some)
    silent = sum(one.missed_in_silence for one in some)
    return (
        f"| {kind} | {name} | {len(some)} | {without} | {told} |"
        f" {silent} ({100 * silent / len(some):.1f} %) | {_touching(some, shop)} |"
    )


def _touching(some: Sequence[Outcome], shop: Shop) -> int:
    """Children advised onto a bicycle of the demo catalogue whose bar they touch."""
    from calibration.score.decisions import advise

    numbers = [one for one in some if one.inseam_mm is not None]
    if not numbers:
        return 0
    mean_mm = np.array([one.inseam_mm for one in numbers], float)
    sd_mm = np.array([one.sd_mm for one in numbers], float)
    advice = advise(mean_mm, sd_mm, shop)
    touches = shop.touches(np.array([one.true_mm for one in numbers]))
    return int((touches[np.arange(len(numbers)), advice] & (advice != NO_BICYCLE)).sum())


def main(
    bench: Annotated[list[Path], typer.Option(help="Folders of rendered photos and truths.")],
    count: Annotated[int, typer.Option(help="Photos of each folder.")] = 25,
    kinds: Annotated[str, typer.Option(help="Objects, comma between them.")] = (
        "letter,a4,door,wheel,sheet"
    ),
    workers: Annotated[int, typer.Option(help="Processes.")] = 2,
    out: Annotated[Path, typer.Option(help="The report.")] = Path(
        "calibration/results/wrong_sizes.md"
    ),
    note: Annotated[str, typer.Option(help="A line on the photos, for the report.")] = "",
) -> None:
    """Measure the photos under right and wrong sizes, and write the report."""
    jobs = [
        (folder, truth) for folder in bench for truth in _chosen(folder, count, kinds.split(","))
    ]
    with ProcessPoolExecutor(workers) as pool:
        found = list(pool.map(_outcomes, *zip(*jobs, strict=True), chunksize=4))
    outcomes = [one for some in found for one in some]
    out.with_suffix(".json").write_text(
        json.dumps([asdict(one) for one in outcomes], indent=0), "utf-8"
    )
    text = report(outcomes, shop_of(read_catalogue(DEMO_CATALOGUE)), note=note)
    out.write_text(text, "utf-8")
    typer.echo(text)


if __name__ == "__main__":
    typer.run(main)
