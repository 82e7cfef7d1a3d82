"""The tree tells the story: imports go one way, without circles, and a name stands for one module."""

import ast
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1] / "pose_fit"

#: Packages and top modules, each leaning only on those before it.
LAYERS = (
    ("errors", "notice_codes", "budget_sources"),
    ("refusal",),
    ("metrology", "files", "workers"),
    ("photo",),
    ("anthropometry", "bicycle"),
    ("body",),
    ("privacy",),
    ("reference",),
    ("task",),
    ("photogrammetry",),
    ("sights",),
    ("inseam",),
    ("checks",),
    ("measure",),
    ("measure_clip",),
    ("fit",),
    ("growth",),
    ("drawing",),
    ("pairs",),
    ("report", "card"),
    ("batch", "casebook"),
    ("app",),
    ("cli",),
)
RANK = {name: rank for rank, names in enumerate(LAYERS) for name in names}


def _module(path: Path) -> str:
    parts = ("pose_fit", *path.relative_to(ROOT).with_suffix("").parts)
    return ".".join(parts).removesuffix(".__init__")


MODULES = {_module(path): path for path in ROOT.rglob("*.py")}


def _imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield inner if inner in MODULES else node.module


@cache
def imports() -> Mapping[str, frozenset[str]]:
    """What each module imports of the package, inside functions and for types too."""
    return {
        module: frozenset(name for name in _imported(path) if name in MODULES)
        for module, path in MODULES.items()
    }


def _place(module: str) -> str:
    return module.split(".")[1] if "." in module else module


def test_every_package_has_its_layer() -> None:
    places = {_place(module) for module in MODULES} - {"pose_fit"}
    assert places - {"__main__"} == set(RANK)


def test_imports_go_down() -> None:
    upward = [
        f"{module} -> {other}"
        for module, others in imports().items()
        for other in others
        if _place(module) in RANK
        and _place(other) in RANK
        and RANK[_place(other)] > RANK[_place(module)]
    ]
    assert upward == []


def test_no_import_circle() -> None:
    done: set[str] = set()
    under_way: list[str] = []

    def visit(module: str) -> None:
        if module in done:
            return
        circle = under_way[under_way.index(module) :] if module in under_way else []
        assert not circle, " -> ".join([*circle, module])
        under_way.append(module)
        for other in sorted(imports()[module]):
            visit(other)
        under_way.pop()
        done.add(module)

    for module in sorted(MODULES):
        visit(module)


def test_no_two_modules_of_one_name() -> None:
    names = Counter(path.stem for path in MODULES.values() if path.stem != "__init__")
    names -= Counter(path.stem for path in (ROOT / "casebook" / "migrations").rglob("*.py"))
    assert [name for name, count in names.items() if count > 1] == []


#: Longest function; the signatures of commands list their options.
MOST_LINES = 60


def test_no_function_is_long() -> None:
    long = [
        f"{module}.{node.name}: {lines} lines"
        for module, path in MODULES.items()
        if _place(module) != "cli"
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (lines := (node.end_lineno or 0) - node.lineno + 1) > MOST_LINES
    ]
    assert long == []
