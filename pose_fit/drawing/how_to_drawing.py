"""How to use the tape, drawn."""

from collections.abc import Sequence
from typing import Final

from pose_fit.drawing.colours import INK

__all__ = ["tape_drawing"]

_SKIN: Final = "#7c93a1"
_CLOTH: Final = "#34566f"
_SHIRT: Final = "#6d97a4"
_RED: Final = "#a3262a"
_OPEN: Final = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" font-family="sans-serif"'
    f' font-size="13" fill="{INK}">'
)


def tape_drawing(words: Sequence[tuple[str, str]]) -> str:
    """Book between the legs, tape from its top edge to the floor; four steps of two short lines."""
    return "".join(
        [
            _OPEN.format(view="0 0 360 200"),
            '<rect width="360" height="200" fill="#fff"/>',
            '<rect x="8" y="8" width="344" height="180" fill="#eef3f2"/>',
            f'<path d="M8 188H352" stroke="{INK}" stroke-width="3"/>',
            '<g transform="translate(-58 0)">',
            # Legs, and the book between them.
            f'<path d="M92 8V40Q92 60 96 64L104 184H120L124 78H132L136 184H152L160 64Q164 60 164 40'
            f'V8Z" fill="{_CLOTH}"/>',
            f'<path d="M98 184h24v6h-28zM134 184h24l4 6h-28z" fill="{_SKIN}"/>',
            f'<rect x="107" y="76" width="42" height="12" rx="1.5" fill="#c98f2b" stroke="{INK}"/>',
            f'<path d="M128 108V94M122 100l6 -7l6 7" stroke="{_RED}" stroke-width="3" fill="none"/>',
            f'<path d="M149 76H224" stroke="{INK}" stroke-dasharray="3 3"/>',
            # The tape.
            f'<rect x="188" y="76" width="13" height="112" fill="#ffd95a" stroke="{INK}"/>',
            *(f'<path d="M188 {y}h6" stroke="{INK}"/>' for y in range(86, 188, 10)),
            "</g>",
            '<g font-size="13">',
            *(_words(170, 26 + 44 * step, *lines) for step, lines in enumerate(words)),
            "</g></svg>",
        ]
    )


def _words(x: int, y: int, first: str, second: str) -> str:
    return f'<text x="{x}" y="{y}">{first}<tspan x="{x}" dy="16">{second}</tspan></text>'
