"""Calls of ``pose-fit`` made at random: each must do its work or end in words, never in a traceback.

Every command and option is taken from the command line itself, so that a new one is covered as
soon as it is there. Values are drawn by Hypothesis: right ones, nearly right ones, and any text.
Beside them lie files of every kind: a child's photo, damaged photos, catalogues and lists damaged
by bytes or by cells. The commands run in this process; ``app`` serves nothing, and ``batch``
measures here instead of in processes of its own, so that every fault is seen.
"""

import contextlib
import csv
import json
import os
import resource
import shutil
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, get_args, get_origin
from unittest import mock

import hypothesis
import numpy as np
import typer.main
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy
from typer.testing import CliRunner

from calibration.fuzz.damaged_files import cases, sound_files
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import app

__all__ = ["COMMANDS", "Call", "Tally", "run_calls"]

_SAMPLE: Final = Path(__file__).parents[2] / "sample_images" / "sheet_1.jpg"
#: Options that would look for other machines.
_LEFT_OUT: Final = frozenset({"dask"})
#: Address space of the run; a call that takes memory without end is a fault of its own.
_MOST_BYTES: Final = 8 * 1024**3
#: How a call may end: work done, wrong call, photo refused.
_EXITS: Final = frozenset({0, 2, 3})

#: The program's commands by name.
COMMANDS: Final[dict[str, Any]] = dict(typer.main.get_command(app).commands)  # type: ignore[attr-defined]


@dataclass(frozen=True, slots=True)
class Call:
    """Words after ``pose-fit``, and the seeds of the files beside them."""

    command: str
    words: tuple[str, ...]
    photo_seed: int
    table_seed: int


@dataclass(slots=True)
class Tally:
    """How many calls ended how, and what went wrong."""

    ends: Counter[tuple[str, int]] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


_NUMBERS: Final = (
    *("0", "-0", "-1", "1", "7", "7.5", "12", "18", "179.5", "1270", "99999999", "1e3", "1e308"),
    *("1e309", "-1e309", "nan", "-inf", "inf", "1e-320", "0x10", "1_000", "7,5", "٧", "½", "", " "),
)
_LENGTHS: Final = (
    *("25.5in", "25 1/2 in", "64.8cm", "648mm", "0.648 m", "648", "80in", "2032mm", "6mm", "3in"),
    *("0in", "-25in", "1e400in", "nanmm", "25in 25in", "25'", "2ft 1in", "1/0 in", "25,5in", "in"),
    *("47-406", "20 x 1.75", "20 x 1 3/8", "24in", "4 7-406", "000-000", "999-999"),
)
_POINTS: Final = (
    *("100,100 200,100 200,400 100,400", "10,10 300,10", "1,1", "1,1 1,1 1,1 1,1", "nan,1 2,2"),
    *("inf,0 0,inf 1,1 2,2", "1e308,1e308 -1e308,0", "600,100 600,900", "a,b", ",", "1;2 3;4"),
    *("120,80 130,85 140,95 145,110 150,130", "0,0 1,0 2,0 3,0 4,0", "1,2,3"),
)
_PATHS: Final = (
    *("child.jpg", "wall.png", "damaged", "empty.jpg", "stock.csv", "bytes.csv", "cells.csv"),
    *("list.csv", "folder", ".", "", "no such file.jpg", "no/such/folder/x.png", "naïve 写真.png"),
    *("\udce9.jpg", "x" * 300 + ".png", "new.pdf", "new.csv", "marks.png", "marks.webp", "marks"),
    *("/dev/null", "/dev/full", "loop", "pipe", "stock.csv/x"),
)


def _text() -> SearchStrategy[str]:
    """Any text that can be a word of a call: no NUL, and bytes that are no UTF-8."""
    letters = st.characters(exclude_characters="\0", exclude_categories=["Cs"])
    return st.text(letters | st.sampled_from("\udc80\udcff=;,\"'-"), max_size=20)


def _harmless_path() -> SearchStrategy[str]:
    """Any text as a path that leads nowhere outside the folder of the run."""
    return _text().map(lambda text: text.lstrip("/~").replace("..", "_"))


def _values(option: Any) -> SearchStrategy[str]:
    kind = _kind_of(option)
    right: SearchStrategy[str]
    if choices := get_args(kind):
        right = st.sampled_from([str(choice) for choice in choices])
    elif kind is Path:
        return st.sampled_from(_PATHS) | st.sampled_from(_PATHS) | _harmless_path()
    elif option.name in ("points", "crotch", "floor", "person"):
        number = st.floats(-50, 3000).map(lambda value: f"{value:.6g}")
        right = st.sampled_from(_POINTS) | st.lists(
            st.tuples(number, number).map(",".join), max_size=9
        ).map(" ".join)
    elif kind in (int, float):
        right = st.sampled_from(_NUMBERS) | st.floats().map(str) | st.integers().map(str)
    else:
        names = st.sampled_from(("sheet", "letter", "a4", "door", "wheel", "length", "Brambit 20"))
        lengths = st.floats(1, 90).map(lambda value: f"{value:.3g}in")
        right = st.sampled_from(_LENGTHS) | lengths | names
    # Three right values to a wrong one, or hardly any call would come through.
    return right | right | right | st.sampled_from(_LENGTHS + _NUMBERS + _POINTS) | _text()


def _kind_of(option: Any) -> Any:
    """The type of one value: a class, or a Literal with its choices."""
    kind = option.type_descriptor.annotation
    return get_args(kind)[0] if get_origin(kind) is list else kind


#: What an option is usually given; with it a call reaches the work itself.
_USUAL: Final = {
    "photos": ("wall.png", "damaged", "damaged", "child.jpg"),
    "source": ("list.csv", "list.csv", "folder"),
    "reference": ("sheet", "sheet", "letter", "a4", "door", "wheel", "length"),
    "size": ("80in", "2032mm", "1m", "47-406"),
    "points": _POINTS[:2],
    "bikes": ("stock.csv", "stock.csv", "cells.csv"),
    "out": ("new.pdf", "new.csv"),
    "overlay": ("marks.png", "marks.webp"),
    "ruler": ("180", "179.5"),
    "soles": ("0", "20.5mm"),
    "riding_soles": ("15", "0.5in"),
    "taken": ("2025-05-10", "2026-01-02"),
    "today": ("2026-01-02", "2026-11-26"),
    "measured": ("2025-05-01", "2026-01-01"),
    "table": ("pairs.csv", "pairs.csv", "stock.csv"),
    "age": ("6.4", "7y6m", "12"),
    "stature": ("1210", "50in"),
    "inseam": ("25.5in", "64.8cm", "25 1/4 in"),
    "sd": ("6mm", "0.2in"),
    "trousers": ("24in", "61cm"),
    "lift": ("3in", "70mm"),
    "lift_bike": ("Brambit 20",),
    "crotch": ("600,900", "160,120"),
    "floor": ("600,1400", "160,230"),
    "person": ("600,700", "160,130"),
    "legwear": ("snug", "fitted", "loose", "hidden"),
    "placement": ("wall", "beside"),
    "use_child": ("yes", "no"),
    "sex": ("f", "M"),
    "skill": ("first_pedals", "sure", "off_road"),
    "plot": ("plot.svg",),
    "shop": ("",),
    "workers": ("1", "2"),
}


#: References as people mean them: what belongs together.
_OBJECTS: Final = (
    ("--reference", "sheet"),
    ("--reference", "sheet", "--ruler", "179.5"),
    ("--reference", "letter"),
    ("--reference", "a4", "--points", "100,100 200,100 200,240 100,240"),
    ("--reference", "door", "--size", "80in", "--points", "60,20 200,20 200,230 60,230"),
    ("--reference", "wheel", "--size", "47-406"),
    ("--reference", "length", "--size", "1m", "--points", "10,10 300,10"),
    ("--reference", "height", "--size", "127cm"),
    ("--reference", "auto"),
)
_OF_OBJECTS: Final = frozenset({"reference", "size", "points", "ruler"})


def _usual(option: Any) -> SearchStrategy[str]:
    if option.name in _USUAL:
        return st.sampled_from(_USUAL[option.name])
    choices = get_args(_kind_of(option))
    return st.sampled_from([str(choice) for choice in choices]) if choices else _values(option)


@st.composite
def _calls(draw: Callable[..., Any], command: str) -> Call:
    words: list[str] = []
    # Of six calls two are careless throughout, two have slips, two are as people mean them.
    care = 4 - draw(st.sampled_from((0, 1, 2, 3, 4, 4)))
    options = [option for option in COMMANDS[command].params if option.name not in _LEFT_OUT]
    if care >= 3 and _OF_OBJECTS & {option.name for option in options}:
        words += draw(st.sampled_from(_OBJECTS))
        options = [option for option in options if option.name not in _OF_OBJECTS]
    for option in options:
        needed = option.required or option.name in ("inseam", "bikes", "heels_down")
        # Some four of the options, however many there are, or hardly any call would come through.
        chance = (80 if care == 0 else 98) if needed else max(400 // len(options), 5)
        if draw(st.integers(0, 99)) >= chance:
            continue
        slip = draw(st.integers(0, 5)) <= (3, 1, 0)[care] if care <= 2 else False
        values = _values(option) if slip else _usual(option)
        many = (
            draw(st.sampled_from((1, 1, 1, 2, 3))) if option.multiple or option.nargs == -1 else 1
        )
        for _ in range(many):
            if option.param_type_name == "argument":
                words.append(draw(values))
            elif option.is_flag:
                words.append(option.opts[0])
            else:
                words += [option.opts[0], draw(values)]
    if care == 0 and draw(st.booleans()):
        at = draw(st.integers(0, len(words)))
        words.insert(at, draw(_harmless_path() | st.sampled_from(("--help", "--", "-", "--no"))))
    seeds = st.integers(0, 2**32 - 1)
    return Call(command, tuple(words), draw(seeds), draw(seeds))


def run_calls(
    commands: Sequence[str], count: int, *, seed: int, progress: Callable[[], None] = lambda: None
) -> Tally:
    """Make ``count`` calls of each command and see how they end."""
    tally = Tally()
    home = Path.cwd()
    with tempfile.TemporaryDirectory() as name, _bounded_memory(), _nothing_outside():
        os.chdir(name)
        try:
            for command in commands:

                @hypothesis.seed(seed)
                @settings(
                    max_examples=count,
                    database=None,
                    deadline=None,
                    derandomize=False,
                    phases=[Phase.generate],
                    suppress_health_check=list(HealthCheck),
                )
                @hypothesis.given(_calls(command))
                def one(call: Call) -> None:
                    _make_files(call)
                    _end(call, tally)
                    progress()

                one()
        finally:
            os.chdir(home)
    return tally


def _end(call: Call, tally: Tally) -> None:
    """Make the call; what is no proper end is noted, and the run goes on."""
    result = CliRunner().invoke(app, [call.command, *call.words])
    said = result.stdout + result.stderr
    tally.ends[call.command, result.exit_code] += 1
    fault = ""
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        fault = "".join(traceback.format_exception(result.exception))
    elif "Traceback (most recent call last)" in said:
        fault = said
    elif result.exit_code not in _EXITS:
        fault = f"ended with {result.exit_code}: {said}"
    elif result.exit_code and not said.strip():
        fault = f"ended with {result.exit_code} and said nothing"
    elif "--json" in call.words and result.exit_code in (0, 3) and "--help" not in call.words:
        fault = _no_json(result.stdout)
    if "unexpected_error" in _table():
        fault += _table()
    left = [name for name in os.listdir() if name.endswith(".part")]
    if left:
        fault += f"left behind {left}"
    if fault:
        tally.faults.append(f"{call}\n{fault}")


def _table() -> str:
    """What a batch wrote, where there was one."""
    path = Path("new.csv")
    return path.read_text(encoding="utf-8-sig", errors="replace") if path.is_file() else ""


def _no_json(said: str) -> str:
    try:
        for line in said.splitlines():
            json.loads(line, parse_constant=lambda word: int(word))
    except ValueError as wrong:
        return f"no JSON ({wrong}): {said[:500]}"
    return ""


def _make_files(call: Call) -> None:
    """The folder of one call, made anew."""
    for path in Path().iterdir():
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        else:
            path.unlink()
    shutil.copy(_SAMPLE, "child.jpg")
    Path("wall.png").write_bytes(_SOUND["png"])
    (case,) = cases(1, seed=call.photo_seed, files={"": _SOUND[_pick(_SOUND, call.photo_seed)]})
    Path("damaged").write_bytes(case.content)
    Path("empty.jpg").write_bytes(b"")
    stock = DEMO_CATALOGUE.read_bytes()
    Path("stock.csv").write_bytes(stock)
    Path("bytes.csv").write_bytes(next(cases(1, seed=call.table_seed, files={"": stock})).content)
    Path("cells.csv").write_bytes(_cells_changed(stock, call.table_seed))
    Path("pairs.csv").write_bytes(_cells_changed(_PAIRS, call.table_seed))
    Path("list.csv").write_bytes(_cells_changed(_LIST, call.table_seed))
    Path("folder").mkdir()
    Path("folder", "one.jpg").write_bytes(case.content)
    Path("loop").symlink_to("loop")


_SOUND: Final = sound_files()
_LIST: Final = (
    b"photo,reference,size,points,placement,ruler_mm,soles,legwear,heels_down,age,sex,stature_mm\n"
    b"wall.png,sheet,,,wall,180,0,snug,yes,7,f,1250\n"
    b'damaged,door,80in,"1,1 9,1 9,9 1,9",wall,,,,no,,,\n'
    b'empty.jpg,length,1m,"1,1 9,9",beside,,20,loose,,,m,\n'
    b"missing.jpg,wheel,47-406,,,,,,,,,\n"
)


_PAIRS: Final = b"photo_mm,photo_sd_mm,tape_1_mm,tape_2_mm,taken_by,day\n" + b"".join(
    b"%d,15,%d,%d,A,2026-03-%02d\n" % (600 + 9 * n, 604 + 8 * n, 602 + 9 * n, n + 1)
    for n in range(8)
)


def _pick(files: Any, seed: int) -> str:
    kinds = list(files)
    return str(kinds[seed % len(kinds)])


def _cells_changed(table: bytes, seed: int) -> bytes:
    """A table with some cells, the separator, the coding or the ends of its lines changed."""
    rng = np.random.default_rng(seed)
    read = csv.reader(table.decode().splitlines())
    rows = [[f'"{cell}"' if "," in cell else cell for cell in row] for row in read]
    odd = (*_NUMBERS, *_LENGTHS, "=1+1", '"', '""', "a;b", "\n", "\r", "\0", "ﬁ", "é" * 5000, "yes")
    for _ in range(int(rng.integers(0, 4))):
        row = rows[int(rng.integers(len(rows)))]
        row[int(rng.integers(len(row)))] = odd[int(rng.integers(len(odd)))]
    if rng.random() < 0.1:
        rows.append(list(rows[-1]))
    separator = (",", ";", "\t")[int(rng.integers(3))] if rng.random() < 0.3 else ","
    end = ("\n", "\r\n", "\r")[int(rng.integers(3))] if rng.random() < 0.3 else "\n"
    coding = ("utf-8-sig", "utf-16", "utf-8")[int(rng.integers(3))] if rng.random() < 0.3 else "utf-8"  # fmt: skip
    return end.join(separator.join(row) for row in rows).encode(coding)


class _Here:
    """Workers of a batch that are this process."""

    capacity = 1

    def __init__(self, count: int) -> None:
        self.count = count

    def __enter__(self) -> "_Here":
        return self

    def __exit__(self, *_: object) -> None:
        return None

    def submit(self, work: Any, job: Any, fingerprint: str) -> "Future[Any]":
        done: Future[Any] = Future()
        done.set_result(work(job, fingerprint))
        return done

    def is_crash(self, fault: BaseException) -> bool:
        return False


@contextlib.contextmanager
def _nothing_outside() -> Iterator[None]:
    with (
        mock.patch("pose_fit.app.serve.serve", return_value=0),
        mock.patch("pose_fit.batch.workers.LocalWorkers", _Here),
    ):
        yield


@contextlib.contextmanager
def _bounded_memory() -> Iterator[None]:
    before = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (_MOST_BYTES, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, before)
