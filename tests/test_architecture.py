"""The tree tells the story: imports go one way, without circles, and a name stands for one module."""

import ast
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

#: Packages and top modules of each tree, each leaning only on those before it.
LAYERS = {
    "pose_fit": (
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
        ("scene",),
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
        ("__main__",),
    ),
    "calibration": (
        ("people", "scenes", "true_view", "along_leg", "fuzz", "speed"),
        ("worlds",),
        ("observe", "sights_net"),
        ("scored",),
        ("fit",),
        ("score",),
        ("doubtful", "real", "trials"),
        ("__main__",),
    ),
}
TREES = sorted(LAYERS)


def _module(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


@cache
def modules(tree: str) -> Mapping[str, Path]:
    return {_module(path): path for path in (ROOT / tree).rglob("*.py")}


def _imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield inner if any(inner in modules(tree) for tree in TREES) else node.module


@cache
def imports(tree: str) -> Mapping[str, frozenset[str]]:
    """What each module imports of its own tree, inside functions and for types too."""
    return {
        module: frozenset(name for name in _imported(path) if name in modules(tree))
        for module, path in modules(tree).items()
    }


def _place(module: str) -> str:
    return module.split(".")[1] if "." in module else module


@pytest.mark.parametrize("tree", TREES)
def test_every_package_has_its_layer(tree: str) -> None:
    places = {_place(module) for module in modules(tree)} - {tree}
    assert places == {name for names in LAYERS[tree] for name in names}


@pytest.mark.parametrize("tree", TREES)
def test_imports_go_down(tree: str) -> None:
    rank = {name: rank for rank, names in enumerate(LAYERS[tree]) for name in names}
    upward = [
        f"{module} -> {other}"
        for module, others in imports(tree).items()
        for other in others
        if _place(module) in rank
        and _place(other) in rank
        and rank[_place(other)] > rank[_place(module)]
    ]
    assert upward == []


@pytest.mark.parametrize("tree", TREES)
def test_no_import_circle(tree: str) -> None:
    done: set[str] = set()
    under_way: list[str] = []

    def visit(module: str) -> None:
        if module in done:
            return
        circle = under_way[under_way.index(module) :] if module in under_way else []
        assert not circle, " -> ".join([*circle, module])
        under_way.append(module)
        for other in sorted(imports(tree)[module]):
            visit(other)
        under_way.pop()
        done.add(module)

    for module in sorted(modules(tree)):
        visit(module)


def test_what_is_shipped_leans_on_neither_the_bench_nor_the_tests() -> None:
    leaning = [
        f"{module} -> {name}"
        for module, path in modules("pose_fit").items()
        for name in _imported(path)
        if name.split(".")[0] in ("calibration", "tests")
    ]
    assert leaning == []


def test_no_two_modules_of_one_name() -> None:
    paths = modules("pose_fit").values()
    names = Counter(path.stem for path in paths if path.stem != "__init__")
    migrations = ROOT / "pose_fit" / "casebook" / "migrations"
    names -= Counter(path.stem for path in migrations.rglob("*.py"))
    assert [name for name, count in names.items() if count > 1] == []


#: Longest function; the signatures of commands list their options.
MOST_LINES = 60


def test_no_function_is_long() -> None:
    long = [
        f"{module}.{node.name}: {lines} lines"
        for module, path in modules("pose_fit").items()
        if _place(module) != "cli"
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (lines := (node.end_lineno or 0) - node.lineno + 1) > MOST_LINES
    ]
    assert long == []


def _array_names(tree: ast.Module) -> set[str]:
    """``NDArray`` and the module's own short names for arrays."""
    return {"NDArray"} | {
        target.id
        for node in tree.body
        if isinstance(node, ast.Assign) and ast.unparse(node.value).startswith("NDArray[")
        for target in node.targets
        if isinstance(target, ast.Name)
    }


def _holds_arrays(node: ast.ClassDef, arrays: set[str]) -> bool:
    return any(
        isinstance(part, ast.Name) and part.id in arrays
        for field in node.body
        if isinstance(field, ast.AnnAssign)
        for part in ast.walk(field.annotation)
    )


@pytest.mark.parametrize("tree", TREES)
def test_dataclasses_of_arrays_are_compared_by_identity(tree: str) -> None:
    """The ``==`` that a dataclass writes for itself raises where a field is an array."""
    ambiguous = [
        f"{module}.{node.name}"
        for module, path in modules(tree).items()
        for parsed in [ast.parse(path.read_text("utf-8"))]
        for node in ast.walk(parsed)
        if isinstance(node, ast.ClassDef) and _holds_arrays(node, _array_names(parsed))
        for decorator in node.decorator_list
        if ast.unparse(decorator).startswith("dataclass")
        and "eq=False" not in ast.unparse(decorator)
    ]
    assert ambiguous == []
