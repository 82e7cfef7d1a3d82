"""What is installed is pinned by hash, and its licences are known."""

import re
import tomllib
from functools import cache
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
LICENCES = (ROOT / "LICENCES.md").read_text("utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


@cache
def pinned(name: str) -> dict[str, tuple[Requirement, int]]:
    """Each package of a lock file: its pin, and how many hashes it has."""
    text = (ROOT / name).read_text("utf-8")
    found = re.findall(
        r"^(\w.+) \\\n((?:    --hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", text, re.MULTILINE
    )
    pins = [(Requirement(pin), hashes.count("--hash=sha256:")) for pin, hashes in found]
    return {canonicalize_name(pin.name): (pin, count) for pin, count in pins}


LOCKS = ("requirements.lock", ".ci/dev.lock")
WANTED = [
    *((LOCKS[0], Requirement(text)) for text in PROJECT["dependencies"]),
    *((LOCKS[1], Requirement(text)) for text in PROJECT["dependencies"]),
    *((LOCKS[1], Requirement(text)) for text in PROJECT["optional-dependencies"]["dev"]),
]
#: Python and machine that the lock is for.
MACHINES = [
    {"python_full_version": f"{python}.0", "python_version": python, **machine}
    for python in ("3.11", "3.12")
    for machine in (
        {"sys_platform": "linux", "platform_machine": "x86_64"},
        {"sys_platform": "darwin", "platform_machine": "arm64"},
        {"sys_platform": "win32", "platform_machine": "AMD64"},
    )
]


@pytest.mark.parametrize("name", LOCKS)
def test_every_line_of_the_lock_is_a_pin_with_its_hashes(name):
    lines = (ROOT / name).read_text("utf-8").splitlines()
    starts = [line for line in lines if line and line[0] not in " #"]
    assert len(starts) == len(pinned(name)) > 80
    assert all(count for _, count in pinned(name).values())


@pytest.mark.parametrize(("name", "wanted"), WANTED, ids=str)
def test_the_lock_has_what_the_project_asks_for(name, wanted):
    pin, _ = pinned(name)[canonicalize_name(wanted.name)]
    (version,) = pin.specifier
    told = f"{wanted} is locked as {version.version}: bash .ci/lock"
    assert wanted.specifier.contains(version.version), told
    for machine in MACHINES:
        assert pin.marker is None or pin.marker.evaluate(machine), machine


def test_measuring_needs_no_tool_of_the_tests():
    measuring, all_of_it = (set(pinned(name)) for name in LOCKS)
    assert measuring < all_of_it
    assert not measuring & {"pytest", "playwright", "mypy", "ruff"}


def test_the_licence_of_everything_locked_is_listed():
    listed = dict(re.findall(r"^\| ([\w.-]+) \| (\S+) \| .+ \|$", LICENCES, re.MULTILINE))
    listed.pop("package")
    assert {canonicalize_name(name): f"=={version}" for name, version in listed.items()} == {
        name: str(pin.specifier)
        for name, (pin, _) in pinned(".ci/dev.lock").items()
        if pin.marker is None or pin.marker.evaluate()
    }
    assert "not stated" not in LICENCES


def test_copyleft_is_only_what_is_known_and_used_as_a_library():
    told = LICENCES.partition("Libraries under a copyleft licence")[0]
    names = re.findall(r"^- ([\w.-]+): .*(?:GPL|MPL|Mozilla)", told, re.MULTILINE)
    assert sorted(names) == [
        *("certifi", "hypothesis", "pathspec", "psycopg", "psycopg-binary", "svglib"),
    ]
