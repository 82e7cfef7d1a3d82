"""How to stand for the picture and how to use the tape, drawn."""

from typing import Final

__all__ = ["PICTURE_ALT", "TAPE_ALT", "picture_drawing", "tape_drawing"]

PICTURE_ALT: Final = (
    "Side view: a child stands with both heels at a wall, on which the sheet hangs beside the"
    " knees. The phone is held level at the height of the child’s hips, 2 to 3 m (7 to 10 ft) away."
    " Front view: the child’s feet are a hand apart, the sheet hangs a hand beside the legs, and the"
    " picture shows head, feet and sheet."
)
TAPE_ALT: Final = (
    "A child stands barefoot against a wall with a book between the legs, its back edge to the"
    " wall, pulled up firmly. A tape runs from the top edge of the book down to the floor."
)

_INK: Final = "#17252b"
_SKIN: Final = "#7c93a1"
_CLOTH: Final = "#34566f"
_SHIRT: Final = "#6d97a4"
_GREEN: Final = "#0b5f5a"
_RED: Final = "#a3262a"
_OPEN: Final = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" font-family="sans-serif"'
    f' font-size="13" fill="{_INK}">'
)


def picture_drawing() -> str:
    """The phone's place from the side, and what the picture shows."""
    return "".join(
        [
            _OPEN.format(view="0 0 360 430"),
            '<rect width="360" height="430" fill="#fff"/>',
            _side_view(),
            f'<g transform="translate(0 215)">{_front_view()}</g>',
            "</svg>",
        ]
    )


def tape_drawing() -> str:
    """Book between the legs, tape from its top edge to the floor."""
    return "".join(
        [
            _OPEN.format(view="0 0 360 200"),
            '<rect width="360" height="200" fill="#fff"/>',
            '<rect x="8" y="8" width="344" height="180" fill="#eef3f2"/>',
            f'<path d="M8 188H352" stroke="{_INK}" stroke-width="3"/>',
            '<g transform="translate(-58 0)">',
            # Legs, and the book between them.
            f'<path d="M92 8V40Q92 60 96 64L104 184H120L124 78H132L136 184H152L160 64Q164 60 164 40'
            f'V8Z" fill="{_CLOTH}"/>',
            f'<path d="M98 184h24v6h-28zM134 184h24l4 6h-28z" fill="{_SKIN}"/>',
            f'<rect x="107" y="76" width="42" height="12" rx="1.5" fill="#c98f2b" stroke="{_INK}"/>',
            f'<path d="M128 108V94M122 100l6 -7l6 7" stroke="{_RED}" stroke-width="3" fill="none"/>',
            '<path d="M149 76H224" stroke="#17252b" stroke-dasharray="3 3"/>',
            # The tape.
            f'<rect x="188" y="76" width="13" height="112" fill="#ffd95a" stroke="{_INK}"/>',
            *(f'<path d="M188 {y}h6" stroke="{_INK}"/>' for y in range(86, 188, 10)),
            "</g>",
            '<g font-size="13">',
            _words(170, 26, "Barefoot, heels and", "back to the wall"),
            _words(170, 70, "Book pulled up firmly,", "its edge on the wall"),
            _words(170, 114, "Tape from the top of", "the book to the floor"),
            _words(170, 158, "Three times, taking the", "book out in between"),
            "</g></svg>",
        ]
    )


def _side_view() -> str:
    floor = 188
    return "".join(
        [
            '<rect x="8" y="8" width="14" height="180" fill="#c9d4d6"/>',
            f'<path d="M8 {floor}H352" stroke="{_INK}" stroke-width="3"/>',
            '<text x="28" y="22" font-size="12" fill="#4d6066">wall</text>',
            # The child, facing right, heels to the wall.
            f'<circle cx="40" cy="62" r="13" fill="{_SKIN}"/>',
            f'<path d="M30 78Q40 72 50 78L51 122H29Z" fill="{_SHIRT}"/>',
            f'<path d="M29 122H51L48 182H31Z" fill="{_CLOTH}"/>',
            f'<path d="M28 182H48Q58 183 58 {floor}H26Z" fill="{_INK}"/>',
            f'<path d="M23 138h3v24h-3z" fill="#fff" stroke="{_INK}"/>',
            # The phone and its line of sight.
            f'<path d="M60 118H286" stroke="{_GREEN}" stroke-width="2" stroke-dasharray="6 5"/>',
            f'<rect x="288" y="100" width="9" height="36" rx="2" fill="{_INK}"/>',
            # An adult kneels behind it.
            '<g fill="#a8b8bb"><circle cx="328" cy="82" r="13"/>'
            '<path d="M318 100Q330 96 340 104L346 148L350 160L354 188H318L322 176L334 170L330 150H318Z"/>'
            '</g><path d="M324 110L300 122" stroke="#8fa3a6" stroke-width="7"'
            ' stroke-linecap="round"/>',
            f'<path d="M278 118V{floor - 2}M274 124l4 -6l4 6M274 {floor - 8}l4 6l4 -6"'
            f' stroke="{_GREEN}" stroke-width="2" fill="none"/>',
            _words(180, 84, "phone level,", "at hip height", anchor="middle"),
            f'<path d="M26 200H286M26 195v10M286 195v10" stroke="{_GREEN}" stroke-width="2"/>',
            '<text x="156" y="204" text-anchor="middle" stroke="#fff" stroke-width="6"'
            ' paint-order="stroke">2–3 m (7–10 ft)</text>',
            _words(74, 160, "sheet on the wall", "beside the knees"),
        ]
    )


def _front_view() -> str:
    marker = f'<path d="M0 0h10v10h-10zM16 0h10v10h-10zM0 22h10v10h-10zM16 22h10v10h-10z" fill="{_INK}"/>'
    return "".join(
        [
            '<rect x="14" y="10" width="150" height="200" rx="12" fill="#17252b"/>',
            '<rect x="21" y="20" width="136" height="180" fill="#eef3f2"/>',
            '<rect x="21" y="184" width="136" height="16" fill="#c9d4d6"/>',
            f'<circle cx="94" cy="48" r="14" fill="{_SKIN}"/>',
            f'<path d="M76 66Q94 58 112 66L116 118H109L108 76V112H80V76L79 118H72Z" fill="{_SHIRT}"/>',
            f'<path d="M79 110H109L118 180H103L95 128H93L85 180H70Z" fill="{_CLOTH}"/>',
            f'<path d="M68 180H85V187H64ZM103 180H120L124 187H103Z" fill="{_INK}"/>',
            '<rect x="27" y="136" width="32" height="38" fill="#fff" stroke="#8fa3a6"/>',
            f'<g transform="translate(30 139)">{marker}</g>',
            f'<path d="M85 193H103M85 189v8M103 189v8" stroke="{_RED}" stroke-width="1.6"/>',
            _words(178, 42, "head to feet and the", "sheet in the picture"),
            _words(178, 90, "close-fitting legwear,", "unlike the wall"),
            _words(178, 138, "sheet a hand beside", "the legs, flat"),
            _words(178, 184, "feet a hand apart,", "heels at the wall"),
        ]
    )


def _words(x: int, y: int, first: str, second: str, *, anchor: str = "start") -> str:
    return (
        f'<text x="{x}" y="{y}" text-anchor="{anchor}">{first}'
        f'<tspan x="{x}" dy="16">{second}</tspan></text>'
    )
