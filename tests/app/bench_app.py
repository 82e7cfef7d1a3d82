"""How long a visitor waits: cold start, first sign of progress, the answer to 12-megapixel photos.

Run by hand on an idle machine; how busy it was stands beside each round::

    python -m tests.app.bench_app --out calibration/results/app_speed.md

Pictures and clip are samples, enlarged.
"""

import os
import shutil
import tempfile
import time
from pathlib import Path
from typing import Annotated

import typer
from playwright.sync_api import Page, sync_playwright

from calibration.speed.photo import filmed

from .browser import ARGUMENTS, WATCH_FOR_SIGN
from .large_pictures import large_pictures
from .load_report import usage_of
from .served_app import served_app

ROUNDS = 3


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


def one_round(pictures: list[Path], clip: Path) -> tuple[str, ...]:
    """Seconds of each step, and the memory held in the end."""
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
            again(tab)
            clip_s = answer_s(tab, clip)
            held = usage_of(app.pid)
        browser.close()
    steps_s = (cold_s, first_s, sign_s, one_s, three_s, clip_s)
    memory = "" if held is None else f"{held.page_mb:.0f} + {held.workers_mb:.0f} MB"
    return (*(f"{seconds:.2f} s" for seconds in steps_s), memory)


def measured_rounds(count: int) -> list[str]:
    """A table's row for each round."""
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        pictures, clip = large_pictures(Path(folder))[:3], filmed(Path(folder, "clip.mp4"))
        for number in range(1, count + 1):
            busy = os.getloadavg()[0]
            found = " | ".join(one_round(pictures, clip))
            rows.append(f"| {number} | {busy:.1f} | {found} |")
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
        " question before it, so for three such pictures and for a clip of 5 seconds (1080 x 1440,"
        f" 30 frames a second), in Chromium at phone width on the same machine ({os.cpu_count()}"
        " cores). The first picture may find a worker that is still getting ready. The load average"
        " says how many other programs wanted those cores; the memory is that of the pages' process"
        " and of its workers.",
        "",
        "| round | load average | usable page | first picture | first sign | one picture | three"
        " | clip | memory |",
        "|---|---|---|---|---|---|---|---|---|",
        "| wanted | idle | ≤ 4 s | | ≤ 0.3 s | ≤ 2 s | ≤ 4 s | ≤ 8 s | |",
        *measured_rounds(rounds),
        "",
    ]
    if out is not None:
        out.write_text("\n".join(table), encoding="utf-8")


if __name__ == "__main__":
    typer.run(main)
