"""The licences of everything locked, as the installed packages state them.

Run by ``.ci/lock`` in the environment that has the packages; prints Markdown.
"""

import importlib.metadata
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from packaging.requirements import Requirement

#: Libraries inside wheels that are not under a permissive licence, by the start of their file's
#: name. The licences are those of the libraries' own projects, as the notices in the wheels of
#: pillow-heif and OpenCV say them; libgfortran, libgomp, libquadmath and libkeyutils from memory.
INSIDE_WHEELS: Final = {
    "libx265": "GPL-2.0-or-later",
    "libheif": "LGPL-3.0-or-later",
    "libde265": "LGPL-3.0-or-later",
    "libQt5": "LGPL-3.0-only",
    "libav": "LGPL-2.1-or-later",
    "libsw": "LGPL-2.1-or-later",
    "libgfortran": "GPL-3.0-or-later with the GCC runtime exception",
    "libgomp": "GPL-3.0-or-later with the GCC runtime exception",
    "libquadmath": "LGPL-2.1-or-later",
    "libkeyutils": "LGPL-2.1-or-later",
}
#: Not FFmpeg, though it begins like it.
NOT_COPYLEFT: Final = ("libavif",)
COPYLEFT: Final = re.compile(r"GPL|MPL|Mozilla|EUPL|CDDL|EPL")


def locked(lock: Path) -> Iterator[tuple[str, str]]:
    """Name and version of each package of a lock file that belongs to this system."""
    for line in lock.read_text(encoding="utf-8").splitlines():
        if line[:1].isalnum():
            pin = Requirement(line.rstrip(" \\"))
            if pin.marker is None or pin.marker.evaluate():
                yield pin.name, next(iter(pin.specifier)).version


def licence_of(package: importlib.metadata.Distribution) -> str:
    """The licence expression, else the classifiers, else the first line of the licence."""
    told = package.metadata
    if expression := told.get("License-Expression"):
        return str(expression)
    kinds = [
        kind.split(" :: ")[-1]
        for kind in told.get_all("Classifier", [])
        if kind.startswith("License :: ") and kind != "License :: OSI Approved"
    ]
    if kinds:
        return ", ".join(kinds)
    if stated := (told.get("License") or "").strip():
        return str(stated.splitlines()[0])
    for file in package.files or ():
        if re.match(r"LICEN[CS]E", file.name):
            return f"{file.read_text().strip().splitlines()[0].strip()} (its licence file)"
    return "not stated"


def inside(package: importlib.metadata.Distribution) -> dict[str, str]:
    """Libraries inside the package's wheel under a copyleft licence, and that licence."""
    found = {}
    for file in package.files or ():
        if file.parts[0].endswith(".libs") and not file.name.startswith(NOT_COPYLEFT):
            for start, licence in INSIDE_WHEELS.items():
                if file.name.startswith(start):
                    found[re.split(r"[-.]", file.name)[0]] = licence
    return found


def main() -> None:
    """Print the table."""
    lock = Path(__file__).with_name("dev.lock")
    rows, copyleft, libraries = [], [], []
    for name, version in locked(lock):
        try:
            package = importlib.metadata.distribution(name)
        except importlib.metadata.PackageNotFoundError:
            sys.exit(f"{name} is locked but not installed here")
        if package.version != version:
            sys.exit(f"{name}: wanted {version} as locked, found {package.version} installed")
        licence = licence_of(package)
        rows.append(f"| {name} | {version} | {licence} |")
        if COPYLEFT.search(licence):
            copyleft.append(f"- {name}: {licence}")
        libraries += [
            f"- {name}: {library}, {inner}" for library, inner in sorted(inside(package).items())
        ]
    print(
        "# Licences of what pose_fit is installed with",
        "",
        "Written by `bash .ci/lock` from what each locked package states, the tools of the tests",
        "among them. None of it is part of this repository; pip fetches it from the package index.",
        "",
        "Under a copyleft licence, used unchanged as libraries:",
        *copyleft,
        "",
        "Libraries under a copyleft licence inside the wheels. x265 only encodes HEIC, which",
        "pose_fit never does, but it lies in pillow-heif's wheel: whoever passes on an installed",
        "copy passes on GPL code and has to keep its terms.",
        *libraries,
        "",
        "| package | version | licence |",
        "|---|---|---|",
        *rows,
        sep="\n",
    )


if __name__ == "__main__":
    main()
