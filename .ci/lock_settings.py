"""Settings for the resolver: the systems to lock for, and what was tested, read as pip freezes it."""

import sys
from typing import Final

#: The systems that the pose model's package has wheels for.
SYSTEMS: Final = (
    "sys_platform == 'linux' and platform_machine == 'x86_64'",
    "sys_platform == 'darwin'",
    "sys_platform == 'win32' and platform_machine == 'AMD64'",
)


def main() -> None:
    """Print the settings."""
    tested = [line.strip() for line in sys.stdin if "==" in line]
    print("\n[tool.uv]")
    for name, values in (("environments", SYSTEMS), ("constraint-dependencies", tested)):
        print(f"{name} = [", *(f'    "{value}",' for value in values), "]", sep="\n")


if __name__ == "__main__":
    main()
