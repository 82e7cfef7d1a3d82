"""How long a visitor waits: cold start, first sign of progress, the answer to 12-megapixel photos.

Run by hand on an idle machine; how busy it was stands beside each round::

    python -m tests.app.bench_app --out calibration/results/app_speed.md

A sample is enlarged to 12 megapixels, since no larger picture comes with the project.
"""

import os
import shutil
import tempfile
import time
from pathlib import Path
from typing import Annotated

import typer
from PIL import Image
from playwright.sync_api import Page, sync_playwright

from pose_fit.app.inputs.uploads import samples

from .browser import ARGUMENTS, WATCH_FOR_SIGN
from .served_app import served_app

ROUNDS = 3


def large_pictures(folder: Path) -> list[Path]:
    """The sheet samples at 3000 x 4000 pixels, EXIF kept."""
    paths = []
    for sample in samples():
        if sample.truth["reference"] == "sheet":
            with Image.open(sample.path) as image:
                path = folder / sample.path.name
                image.resize((3000, 4000), Image.Resampling.LANCZOS).save(
                    path, quality=92, exif=image.getexif()
                )
                paths.append(path)
    return paths


def choose(tab: Page, *paths: Path) -> float:
    """When files are chosen on the first screen."""
    start_s = time.perf_counter()
    tab.locator("input[type=file]").first.set_input_files([str(path) for path in paths])
    return start_s


def first_sign_s(tab: Page, path: Path) -> float:
    """From choosing a file to the first sign of progress, seen by the page at each of its frames.

    The sign can be gone before a wait from outside looks again.
    """
    tab.evaluate(WATCH_FOR_SIGN)
    choose(tab, path)
    tab.wait_for_function("window.signs.length > 0")
    chosen_ms, (seen_ms, _, _) = tab.evaluate("[window.chosen, window.signs[0]]")
    return float(seen_ms - chosen_ms) / 1000


def answer_s(tab: Page, *paths: Path) -> float:
    """From choosing files to the answer, or to the question that stands before it."""
    start_s = choose(tab, *paths)
    tab.wait_for_selector(".pf-answer, .st-key-heels", timeout=60_000)
    return time.perf_counter() - start_s


def again(tab: Page) -> None:
    """Back to the first screen."""
    tab.wait_for_selector(".pf-answer, .st-key-heels", timeout=60_000)
    tab.get_by_role("button", name="Start again").click()
    tab.wait_for_selector(".pf-opening", timeout=60_000)


def one_round(pictures: list[Path]) -> tuple[float, ...]:
    """Cold start, first picture, first sign of a second one, one picture, three pictures."""
    with sync_playwright() as playwright:
        path = shutil.which("chromium") or shutil.which("chromium-browser")
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        tab = browser.new_page(viewport={"width": 390, "height": 844})
        start_s = time.perf_counter()
        with served_app() as app:
            tab.goto(app.url)
            tab.wait_for_selector("input[type=file]", state="attached", timeout=60_000)
            cold_s = time.perf_counter() - start_s
            first_s = answer_s(tab, pictures[0])
            again(tab)
            sign_s = first_sign_s(tab, pictures[1])
            again(tab)
            one_s = answer_s(tab, pictures[2])
            again(tab)
            three_s = answer_s(tab, *pictures[:3])
        browser.close()
    return cold_s, first_s, sign_s, one_s, three_s


def measured_rounds(count: int) -> list[str]:
    """A table's row for each round."""
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        pictures = large_pictures(Path(folder))[:3]
        for number in range(1, count + 1):
            busy = os.getloadavg()[0]
            times = " | ".join(f"{seconds:.2f} s" for seconds in one_round(pictures))
            rows.append(f"| {number} | {busy:.1f} | {times} |")
            print(rows[-1], flush=True)
    return rows


def main(
    out: Annotated[Path | None, typer.Option(help="Where to write the table.")] = None,
    rounds: int = ROUNDS,
) -> None:
    """Measure, print and write down."""
    table = [
        "# Waiting for the app",
        "",
        "`python -m tests.app.bench_app`: from starting the server to a page that can be used,"
        " from choosing a 12-megapixel JPEG to the first sign of progress, and to the answer or the"
        f" question before it, in Chromium at phone width on the same machine ({os.cpu_count()}"
        " cores). The first picture also loads the pose model. The load average says how many"
        " other programs wanted those cores.",
        "",
        "| round | load average | cold start | first picture | first sign | one picture | three |",
        "|---|---|---|---|---|---|---|",
        *measured_rounds(rounds),
        "",
    ]
    if out is not None:
        out.write_text("\n".join(table), encoding="utf-8")


if __name__ == "__main__":
    typer.run(main)
