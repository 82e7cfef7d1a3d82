"""How to stand and where to hold the phone, drawn without a word."""

from typing import Final

__all__ = ["stance_drawing"]

_INK: Final = "#17252b"
_SKIN: Final = "#7c93a1"
_SHIRT: Final = "#6d97a4"
_CLOTH: Final = "#34566f"
_ACCENT: Final = "#0b5f5a"
_MARKER: Final = "M0 0h7v7h-7zM12 0h7v7h-7zM0 16h7v7h-7zM12 16h7v7h-7z"


def stance_drawing() -> str:
    """A child at the wall beside the sheet, and the phone that sees it."""
    return "".join(
        [
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 360 216" width="360" height="216">',
            '<rect width="360" height="216" rx="14" fill="#f3f6f5"/>',
            # Floor, and the line where it meets the wall.
            '<path d="M0 176H360V202Q360 216 346 216H14Q0 216 0 202Z" fill="#dbe4e3"/>',
            '<path d="M0 176H360" stroke="#8fa3a6" stroke-width="2"/>',
            # The sheet beside the knees.
            f'<rect x="44" y="112" width="36" height="46" fill="#fff" stroke="{_INK}"'
            f' stroke-width="1.5"/><path transform="translate(52 122)" d="{_MARKER}" fill="{_INK}"/>',
            # The child from the front, feet a hand apart.
            f'<circle cx="124" cy="38" r="15" fill="{_SKIN}"/>',
            f'<path d="M104 58Q124 49 144 58L149 112H141L140 70V104H108V70L107 112H99Z" fill="{_SHIRT}"/>',
            f'<path d="M107 102H141L151 178H134L125 122H123L114 178H97Z" fill="{_CLOTH}"/>',
            f'<path d="M96 178H114V185H91ZM134 178H152L157 185H134Z" fill="{_SKIN}"/>',
            # The phone, level at hip height, and what it sees.
            f'<path d="M152 108H272" stroke="{_ACCENT}" stroke-width="2.5" stroke-dasharray="7 6"/>',
            f'<rect x="280" y="66" width="42" height="76" rx="7" fill="{_INK}"/>',
            '<rect x="284" y="74" width="34" height="60" fill="#eef3f2"/>',
            f'<circle cx="303" cy="83" r="4" fill="{_SKIN}"/>',
            f'<path d="M297 88h12l1 15h-14z" fill="{_SHIRT}"/>',
            f'<path d="M297 102h12l2 24h-5l-3-17l-3 17h-5z" fill="{_CLOTH}"/>',
            f'<rect x="287" y="106" width="7" height="10" fill="#fff" stroke="{_INK}"'
            ' stroke-width=".8"/>',
            # The way to the phone.
            f'<path d="M124 203H301M124 198v10M301 198v10" stroke="{_ACCENT}" stroke-width="2"/>',
            f'<text x="214" y="197" font-family="sans-serif" font-size="14" fill="{_INK}"'
            ' text-anchor="middle">2–3 m · 7–10 ft</text>',
            "</svg>",
        ]
    )
