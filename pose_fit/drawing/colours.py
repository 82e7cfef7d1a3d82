"""Colours and signs of drawings and pages."""

from typing import Final

from pose_fit.fit.shown import Shown

__all__ = [
    "ACCENT",
    "INK",
    "LINE",
    "QUIET",
    "SHOWN_COLOUR",
    "SHOWN_SIGN",
    "THEME_CLASS",
    "THEME_STYLE",
    "themed",
]

INK: Final = "#17252b"
QUIET: Final = "#4d6066"
ACCENT: Final = "#0b5f5a"
LINE: Final = "#c9d4d6"
#: What stands on a bicycle, by colour and sign; unsure is neither green nor red. Each colour is at
#: least 4.5 to 1 on white (WCAG 2.2, 1.4.3); sign and word say the same.
_SHOWN: Final[dict[Shown, tuple[str, str]]] = {
    "touching": ("#a3262a", "✕"),
    "too big": ("#a3262a", "✕"),
    "tight": ("#8a5300", "▼"),
    "good": ("#17693a", "✓"),
    "roomy": ("#1d5b9c", "◆"),
    "outgrown": ("#5d4a86", "▲"),
    "measure this bicycle": (QUIET, "?"),
    "measure the child again": (QUIET, "?"),
    "try with an adult holding it": (QUIET, "?"),
}
SHOWN_COLOUR: Final = {shown: colour for shown, (colour, _) in _SHOWN.items()}
SHOWN_SIGN: Final = {shown: sign for shown, (_, sign) in _SHOWN.items()}

_THEMED: Final = {INK: "ink", QUIET: "quiet", ACCENT: "accent", LINE: "line"}
_DARK: Final = {"ink": "#e6edf0", "quiet": "#a9b8bd", "accent": "#4fb3a9", "line": "#3f4d52"}
#: The class of a themed drawing, and its colours where the reader's screen is dark: these hold in a
#: picture of its own, where the page's variables do not reach.
THEME_CLASS: Final = "pf-themed"
THEME_STYLE: Final = (
    f"<style>@media (prefers-color-scheme: dark) {{ .{THEME_CLASS} {{"
    + "".join(f" --pf-{name}: {colour};" for name, colour in _DARK.items())
    + " } }</style>"
)


def themed(colour: str) -> str:
    """A colour that changes with a light or dark screen; the drawing needs :data:`THEME_STYLE`."""
    return f"var(--pf-{_THEMED[colour]}, {colour})"
