"""Speed and memory of measuring photos, beside the parts that no design can avoid.

    python -m calibration.speed.photo

prints a table, and writes it to `calibration/results/photo_speed.md`. The floor of one photo is decoding it and the
passes of the pose model over it, warm and in the same process, run in turn with the whole
measurement. An earlier program, out of the repository's history, runs in turn with the present
one. The pictures are a sample enlarged to 12 and 48 megapixels. Start the program on an idle
machine; on a busy one only ratios and processor time say much.
"""

import io
import os
import platform
import resource
import statistics
import subprocess
import sys
import tarfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image

_ROOT = Path(__file__).parents[2]
_SAMPLE = _ROOT / "sample_images" / "sheet_1.jpg"
_OUT = _ROOT / "calibration" / "results" / "photo_speed.md"
_RUNS = 15
_STARTS = 5
_BATCH_PHOTOS = 60
_CLIP_SIZE, _CLIP_RATE, _CLIP_S = (1080, 1440), 30, 5
_COMMAND = (sys.executable, "-c", "from pose_fit.cli.main import main; main()")
_WORDS = ("--reference", "sheet", "--soles", "20.5")
#: An earlier program, what a 12-megapixel photo took it on two idle cores, and what it may take.
_EARLIER, _EARLIER_MS, _WANTED_MS = "07ceaa9", 753, 450
#: Measures the photo named on its command line at each line it reads, and prints the seconds by
#: the clock and of the processor.
_MEASURES = """
import sys, time
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

model, task = pose_model(), PhotoTask(ReferenceRequest("sheet"), Stated(soles_mm=20.5))
for _ in sys.stdin:
    start_s, start_cpu_s = time.perf_counter(), time.process_time()
    assert measure_photo(read_photo(sys.argv[1]), task, pose=model)
    print(time.perf_counter() - start_s, time.process_time() - start_cpu_s, flush=True)
"""


@dataclass(frozen=True, slots=True)
class Line:
    """What was measured, what it may be, and what it is."""

    what: str
    wanted: str
    found: str
    holds: bool


def main() -> None:
    """Measure everything, print and write the table."""
    load = os.getloadavg()[0]
    with TemporaryDirectory() as name:
        folder = Path(name)
        small, large = _enlarged(folder, 12.0), _enlarged(folder, 48.0)
        lines = [
            *_one_photo(small),
            *_beside_earlier(folder, small),
            _help(),
            _start_up(small),
            _clip(folder),
            _memory(large),
            _batch(folder, small),
        ]
    table = ["| | wanted | found |", "|---|--:|--:|"]
    table += [
        f"| {line.what} | {line.wanted} | {line.found}{'' if line.holds else ' (missed)'} |"
        for line in lines
    ]
    text = "\n".join(
        [
            "# Speed of the measurement",
            "",
            f"Written by `python -m calibration.speed.photo` on {_cores()} cores"
            f" ({platform.machine()}), load {load:.1f} before the start. The floor is decoding and"
            " the passes of the pose model.",
            "",
            *table,
            "",
        ]
    )
    print(text)
    _OUT.write_text(text, "utf-8")


def _enlarged(folder: Path, megapixels: float) -> Path:
    path = folder / f"{megapixels:.0f}.jpg"
    with Image.open(_SAMPLE) as image:
        scale = (megapixels * 1e6 / (image.width * image.height)) ** 0.5
        size = (round(image.width * scale), round(image.height * scale))
        large = image.resize(size, Image.Resampling.BICUBIC)
        large.save(path, quality=92, exif=image.getexif())
    return path


def filmed(path: Path) -> Path:
    """The sample filmed for five seconds at 1080 x 1440 by a hand that moves a little."""
    import cv2
    import numpy as np

    code = cv2.VideoWriter.fourcc(*"mp4v")
    film = cv2.VideoWriter(str(path), code, _CLIP_RATE, _CLIP_SIZE)
    with Image.open(_SAMPLE) as image:
        still = np.asarray(image.convert("RGB").resize(_CLIP_SIZE))[:, :, ::-1]
    for number in range(_CLIP_RATE * _CLIP_S):
        moved = np.array([[1, 0, 8 * np.sin(number / 20)], [0, 1, 6 * np.cos(number / 27)]])
        film.write(cv2.warpAffine(still, moved, _CLIP_SIZE, borderMode=cv2.BORDER_REPLICATE))
    film.release()
    return path


def _clip(folder: Path) -> Line:
    """Reading and measuring a clip, the pose model loaded."""
    from pose_fit.body.mediapipe_pose import pose_model
    from pose_fit.measure_clip import measure_clip
    from pose_fit.photo.clip import read_clip
    from pose_fit.reference.request import ReferenceRequest
    from pose_fit.task.photo_task import PhotoTask
    from pose_fit.task.stated import Stated

    path, model = filmed(folder / "clip.mp4"), pose_model()
    task = PhotoTask(ReferenceRequest("sheet"), Stated(soles_mm=20.5))
    frames = read_clip(path)

    def whole() -> None:
        assert measure_clip(read_clip(path), task, pose=model)

    whole_s, reading_s = _in_turn(whole, lambda: read_clip(path), turns=3)
    return Line(
        f"a clip of {_CLIP_S} s: reading {_ms(reading_s)}, {len(frames)} frames measured",
        "≤ 8 s",
        f"{whole_s:.2f} s",
        whole_s <= 8,
    )


def _one_photo(path: Path) -> Iterator[Line]:
    from pose_fit.body.mediapipe_pose import pose_model
    from pose_fit.measure import measure_photo
    from pose_fit.photo.photo import read_photo
    from pose_fit.reference.request import ReferenceRequest
    from pose_fit.task.photo_task import PhotoTask
    from pose_fit.task.stated import Stated

    model = pose_model()
    task = PhotoTask(ReferenceRequest("sheet"), Stated(soles_mm=20.5))

    def floor() -> None:
        model.find(read_photo(path))

    def whole() -> None:
        assert measure_photo(read_photo(path), task, pose=model)

    runs = (floor, whole, lambda: read_photo(path))
    floor_s, whole_s, decoding_s = _in_turn(*runs)
    ratio = whole_s / floor_s
    # Processor time says more than the clock where other programs run.
    floor_cpu_s, whole_cpu_s = _in_turn(floor, whole, clock=time.process_time)
    yield Line(
        f"one 12-megapixel JPEG: decoding {_ms(decoding_s)}, with the pose passes"
        f" {_ms(floor_s)}, the whole measurement {_ms(whole_s)}",
        "≤ 1.3 × the floor",
        f"{ratio:.2f} × by the clock, {whole_cpu_s / floor_cpu_s:.2f} × in processor time",
        ratio <= 1.3,
    )


def _in_turn(
    *runs: Callable[[], object],
    clock: Callable[[], float] = time.perf_counter,
    turns: int = _RUNS,
) -> list[float]:
    """Median seconds of each, taken in turn so that what disturbs one disturbs all."""
    times_s: list[list[float]] = [[] for _ in runs]
    for turn in range(turns + 2):
        for run, taken_s in zip(runs, times_s, strict=True):
            start_s = clock()
            run()
            if turn >= 2:
                taken_s.append(clock() - start_s)
    return [statistics.median(taken_s) for taken_s in times_s]


def _beside_earlier(folder: Path, path: Path) -> Iterator[Line]:
    """The earlier and the present program in turn: warm, and from the program's start."""
    earlier = folder / "earlier"
    command = ("git", "archive", _EARLIER, "pose_fit")
    packed = subprocess.run(command, check=True, stdout=subprocess.PIPE, cwd=_ROOT).stdout
    with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
        archive.extractall(earlier, filter="data")
    roots, wanted = (earlier, _ROOT), _WANTED_MS / _EARLIER_MS
    with ExitStack() as running:
        warm = [_Warm(root, path, running) for root in roots]
        yield _ratio(
            f"one 12-megapixel JPEG, beside {_EARLIER} that took {_EARLIER_MS} ms on two idle cores",
            [[one.measure() for one in warm] for _ in range(_RUNS + 2)][2:],
            wanted=wanted,
        )
    yield _ratio(
        f"`pose-fit measure` of it with start-up, beside {_EARLIER}",
        [[_from_start(root, path) for root in roots] for _ in range(_STARTS)],
        wanted=1.0,
    )


class _Warm:
    """A program that is loaded and measures a photo whenever it is asked."""

    def __init__(self, root: Path, path: Path, running: ExitStack) -> None:
        self._process = running.enter_context(
            subprocess.Popen(
                (sys.executable, "-c", _MEASURES, str(path)),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
                cwd=root,
                env=_environment(root),
            )
        )

    def measure(self) -> tuple[float, float]:
        """Seconds by the clock and of the processor."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write("\n")
        self._process.stdin.flush()
        wall_s, cpu_s = self._process.stdout.readline().split()
        return float(wall_s), float(cpu_s)


def _from_start(root: Path, path: Path) -> tuple[float, float]:
    """Seconds by the clock and of the processor of a whole run of the command."""
    start_s = time.perf_counter()
    usage = _measured_by_command(root, path)
    return time.perf_counter() - start_s, usage.ru_utime + usage.ru_stime


def _ratio(what: str, turns: Sequence[Sequence[tuple[float, float]]], *, wanted: float) -> Line:
    """Present over earlier: the median of what each turn of both gives."""
    by_clock, by_processor = (
        statistics.median(present[kind] / earlier[kind] for earlier, present in turns)
        for kind in (0, 1)
    )
    return Line(
        what,
        f"≤ {wanted:.2f} ×",
        f"{by_clock:.2f} × by the clock, {by_processor:.2f} × in processor time",
        min(by_clock, by_processor) <= wanted,
    )


def _environment(root: Path) -> dict[str, str]:
    """That a program of this folder runs, whichever is installed."""
    return {**os.environ, "PYTHONPATH": str(root)}


def _help() -> Line:
    (taken_s,) = _in_turn(lambda: _run(*_COMMAND, "--help"))
    return Line("`pose-fit --help`", "< 0.4 s", f"{taken_s:.2f} s", taken_s < 0.4)


def _start_up(path: Path) -> Line:
    """Seconds of each of three photos in a fresh process, timed by the process itself."""
    told = _run(sys.executable, "-m", "calibration.speed.photo", "three", str(path))
    first_s, second_s, third_s = (float(word) for word in told.split())
    return Line(
        f"three photos in a fresh process: the first {first_s:.2f} s with start-up, the second"
        f" {second_s:.2f} s, the third {third_s:.2f} s",
        "no start-up in the second",
        f"{second_s / third_s:.2f} × the third",
        second_s < 1.3 * third_s,
    )


def three(path: Path) -> None:
    """Measure a photo three times, and print the seconds of each."""
    start_s = time.perf_counter()
    from pose_fit.body.mediapipe_pose import pose_model
    from pose_fit.measure import measure_photo
    from pose_fit.photo.photo import read_photo
    from pose_fit.reference.request import ReferenceRequest
    from pose_fit.task.photo_task import PhotoTask
    from pose_fit.task.stated import Stated

    for _ in range(3):
        task = PhotoTask(ReferenceRequest("sheet"), Stated(soles_mm=20.5))
        measure_photo(read_photo(path), task, pose=pose_model())
        print(time.perf_counter() - start_s)
        start_s = time.perf_counter()


def _memory(path: Path) -> Line:
    peak_mb = _megabytes(_measured_by_command(_ROOT, path))
    return Line(
        "peak memory of `pose-fit measure` on 48 megapixels",
        "< 900 MB",
        f"{peak_mb:.0f} MB",
        peak_mb < 900,
    )


def _measured_by_command(root: Path, path: Path) -> resource.struct_rusage:
    """What the command took of the machine."""
    running = subprocess.Popen(
        [*_COMMAND, "measure", str(path), *_WORDS],
        stdout=subprocess.DEVNULL,
        cwd=root,
        env=_environment(root),
    )
    _, status, usage = os.wait4(running.pid, 0)
    running.returncode = os.waitstatus_to_exitcode(status)
    assert running.returncode == 0
    return usage


def _megabytes(usage: resource.struct_rusage) -> float:
    # Linux counts in kibibytes.
    return usage.ru_maxrss * 1024 / 1e6


def _batch(folder: Path, path: Path) -> Line:
    photos = folder / "photos"
    photos.mkdir()
    for number in range(_BATCH_PHOTOS):
        os.link(path, photos / f"{number}.jpg")

    def seconds(count: int) -> float:
        cores = sorted(os.sched_getaffinity(0))[:count]
        out = folder / f"{count}.csv"
        start_s = time.perf_counter()
        _run(
            *("taskset", "--cpu-list", ",".join(str(core) for core in cores)),
            *(*_COMMAND, "batch", str(photos), "--out", str(out), *_WORDS),
        )
        return time.perf_counter() - start_s

    one_s, two_s = seconds(1), seconds(2)
    return Line(
        f"`pose-fit batch` of {_BATCH_PHOTOS} such photos, start-up included:"
        f" {_BATCH_PHOTOS / one_s:.2f} a second on one core, {_BATCH_PHOTOS / two_s:.2f} on two",
        "≥ 1.7 ×",
        f"{one_s / two_s:.2f} ×",
        one_s >= 1.7 * two_s,
    )


def _run(*words: str) -> str:
    return subprocess.run(words, check=True, stdout=subprocess.PIPE, text=True, cwd=_ROOT).stdout


def _cores() -> int:
    return len(os.sched_getaffinity(0))


def _ms(taken_s: float) -> str:
    return f"{1000 * taken_s:.0f} ms"


if __name__ == "__main__":
    if sys.argv[1:2] == ["three"]:
        three(Path(sys.argv[2]))
    else:
        main()
