"""How long a visitor waits: cold start, first estimate and next estimate of a 12-megapixel photo.

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

from .browser import ARGUMENTS
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


def estimate_s(tab: Page, path: Path) -> float:
    """From choosing a file to its picture with marks."""
    shown = tab.locator("img.pf-picture").count()
    start_s = time.perf_counter()
    tab.locator("input[type=file]").first.set_input_files(str(path))
    tab.wait_for_function(
        f"document.querySelectorAll('img.pf-picture').length > {shown}", timeout=60_000
    )
    return time.perf_counter() - start_s


def one_round(pictures: list[Path]) -> tuple[float, list[float]]:
    """Cold start to a page that can be used, and seconds for each picture."""
    with sync_playwright() as playwright:
        path = shutil.which("chromium") or shutil.which("chromium-browser")
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        tab = browser.new_page(viewport={"width": 390, "height": 844})
        start_s = time.perf_counter()
        with served_app() as app:
            tab.goto(app.url)
            tab.wait_for_selector("input[type=file]", state="attached", timeout=60_000)
            cold_s = time.perf_counter() - start_s
            # Else a picture that leaves the heels open is asked about before it is shown.
            tab.get_by_text("Both heels were on the floor").click()
            times_s = [estimate_s(tab, picture) for picture in pictures]
        browser.close()
    return cold_s, times_s


def measured_rounds(count: int) -> list[str]:
    """A table's row for each round."""
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        pictures = large_pictures(Path(folder))[:3]
        for number in range(1, count + 1):
            busy = os.getloadavg()[0]
            cold_s, times_s = one_round(pictures)
            times = " | ".join(f"{seconds:.1f} s" for seconds in times_s)
            rows.append(f"| {number} | {busy:.1f} | {cold_s:.1f} s | {times} |")
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
        " and from choosing a 12-megapixel JPEG to its picture with marks, in Chromium at phone"
        f" width on the same machine ({os.cpu_count()} cores). The first picture also loads the"
        " pose model. The load average says how many other programs wanted those cores.",
        "",
        "| round | load average | cold start | first picture | second | third |",
        "|---|---|---|---|---|---|",
        *measured_rounds(rounds),
        "",
    ]
    if out is not None:
        out.write_text("\n".join(table), encoding="utf-8")


if __name__ == "__main__":
    typer.run(main)
