"""What is installed is pinned by hash, and its licences are known."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
LOCK = (ROOT / "requirements.lock").read_text("utf-8")
LICENCES = (ROOT / "LICENCES.md").read_text("utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
#: Name to version and number of hashes.
PINNED = {
    canonicalize_name(name): (version, hashes.count("--hash=sha256:"))
    for name, version, hashes in re.findall(
        r"^([\w.-]+)==(\S+) \\\n((?:    --hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", LOCK, re.MULTILINE
    )
}
WANTED = [
    Requirement(text)
    for text in (*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["dev"])
]


def test_every_line_of_the_lock_is_a_pin_with_its_hashes():
    starts = [line for line in LOCK.splitlines() if line and line[0] not in " #"]
    assert len(starts) == len(PINNED) > 80
    assert all(hashes for _, hashes in PINNED.values())


@pytest.mark.parametrize("wanted", WANTED, ids=lambda wanted: wanted.name)
def test_the_lock_has_what_the_project_asks_for(wanted):
    version, _ = PINNED[canonicalize_name(wanted.name)]
    assert wanted.specifier.contains(version), f"{wanted} is locked as {version}: bash .ci/lock"


def test_the_licence_of_everything_locked_is_listed():
    listed = dict(re.findall(r"^\| ([\w.-]+) \| (\S+) \| .+ \|$", LICENCES, re.MULTILINE))
    listed.pop("package")
    assert {canonicalize_name(name): version for name, version in listed.items()} == {
        name: version for name, (version, _) in PINNED.items()
    }
    assert "not stated" not in LICENCES


def test_copyleft_is_only_what_is_known_and_used_as_a_library():
    told = LICENCES.partition("Libraries under a copyleft licence")[0]
    names = re.findall(r"^- ([\w.-]+): .*(?:GPL|MPL|Mozilla)", told, re.MULTILINE)
    assert sorted(names) == [
        *("certifi", "hypothesis", "pathspec", "psycopg", "psycopg-binary", "svglib"),
    ]
