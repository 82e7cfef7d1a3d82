"""The fit card as one HTML file that needs nothing else: no script, no font, nothing fetched."""

import base64
from html import escape
from typing import Final

from pose_fit.card.card import CardBicycle, CardDrawing, FitCard, Standing
from pose_fit.card.card_words import (
    ADVICE_TITLE,
    BICYCLES_TITLE,
    CARD_TITLE,
    CAUTIONS,
    CAUTIONS_TITLE,
    FOOTNOTE,
    INSEAM_IS,
    STANDING_WORDS,
    date_text,
    interval_text,
    result_texts,
    unbroken,
)
from pose_fit.card.palette import BAND, INK, LINE, PAPER, QUIET, STANDING_INK, TAPE, WASH
from pose_fit.card.tape_strip import Tape, Tick, tape_of

__all__ = ["card_html"]

#: What a sign looks like, on 24 x 24, drawn in white on the verdict's colour.
_SIGNS: Final[dict[Standing, str]] = {
    "try": '<circle cx="12" cy="12" r="12"/><path d="M6.6 12.2l4.2 4.4 7-8.8"/>',
    "unsure": '<path class="solid" d="M12 .8L24 23H0z"/><path d="M9.2 11.2c0-4 5.8-4 5.8-.4 0'
    ' 2.6-3 2.6-3 5M12 19.2v.2"/>',
    "leave": '<rect x="1" y="1" width="22" height="22"/><path d="M7 7l10 10M17 7L7 17"/>',
}

_CSS: Final = f"""
:root {{ color-scheme: light; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0; background: {PAPER}; color: {INK};
  font: 1rem/1.45 Helvetica, Arial, "Liberation Sans", sans-serif; overflow-wrap: anywhere; }}
header {{ background: {BAND}; color: {PAPER}; padding: 1rem 1.2rem 0; }}
.inner {{ max-width: 60rem; margin: auto; display: flex; flex-wrap: wrap;
  align-items: baseline; gap: .2rem 1.6rem; }}
h1 {{ font-size: 2rem; line-height: 1.1; margin: 0; }}
header p {{ margin: 0; }}
.label {{ font-size: 1.2rem; font-weight: bold; flex: 1 1 12rem; }}
.marks {{ height: .6rem; margin: .7rem -1.2rem 0; background:
  repeating-linear-gradient(90deg, {PAPER} 0 1px, transparent 1px 3rem) 0 0/100% 100%,
  repeating-linear-gradient(90deg, {PAPER} 0 1px, transparent 1px .6rem) 0 100%/100% 55% no-repeat; }}
main, footer {{ max-width: 60rem; margin: auto; padding: 1rem 1.2rem; }}
.result {{ display: grid; grid-template-columns: minmax(0, 3fr) minmax(0, 2fr); gap: 1.5rem; }}
.result.alone {{ grid-template-columns: minmax(0, 1fr); }}
.number {{ margin: .1rem 0 .5rem; font-weight: bold; font-size: 3.2rem; line-height: 1.1; }}
.number span {{ font-size: 2rem; color: {BAND}; margin-left: .8rem; white-space: nowrap; }}
.quiet {{ color: {QUIET}; margin: 0; }}
.tape {{ display: block; width: 100%; height: auto; margin: .2rem 0 .6rem; }}
figure {{ margin: 0; }}
figure img {{ display: block; width: 100%; height: auto; max-height: 26rem; object-fit: contain;
  object-position: left top; }}
figcaption {{ color: {QUIET}; font-size: .9rem; margin-top: .3rem; }}
h2 {{ font-size: 1.25rem; margin: 1.2rem 0 .5rem; }}
h3 {{ font-size: 1.08rem; margin: 0; }}
.bicycles {{ list-style: none; margin: 0; padding: 0; display: grid; gap: .6rem .9rem;
  grid-template-columns: repeat(auto-fit, minmax(min(100%, 19rem), 1fr)); }}
.bicycles > li {{ border: 1px solid {LINE}; border-left: .3rem solid; border-radius: .4rem;
  padding: .6rem .8rem .7rem; display: grid; grid-template-columns: 1.7rem minmax(0, 1fr);
  gap: 0 .7rem; break-inside: avoid; }}
.sign {{ width: 1.7rem; height: 1.7rem; fill: currentColor; }}
.sign path {{ fill: none; stroke: {PAPER}; stroke-width: 2.8; stroke-linecap: round;
  stroke-linejoin: round; }}
.sign path.solid {{ fill: currentColor; stroke: none; }}
.bicycles p, .bicycles ul {{ margin: .2rem 0 0; font-size: .95rem; }}
.bicycles ul {{ padding-left: 1.1rem; }}
.verdict b {{ margin-right: .2rem; }}
.panels {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 19rem), 1fr));
  gap: .9rem; margin-top: 1.2rem; }}
.panels section {{ border-radius: .4rem; padding: .1rem 1rem .8rem; break-inside: avoid; }}
.panels h2 {{ margin: .6rem 0 .3rem; font-size: 1.1rem; }}
.panels ol, .panels ul {{ margin: 0; padding-left: 1.2rem; }}
.advice {{ background: {WASH}; }}
.cautions {{ border: 2px solid {INK}; }}
footer {{ border-top: 1px solid {LINE}; padding-top: .6rem; font-size: .92rem; }}
footer p {{ margin: 0 0 .2rem; }}
.try {{ color: {STANDING_INK["try"]}; }}
.unsure {{ color: {STANDING_INK["unsure"]}; }}
.leave {{ color: {STANDING_INK["leave"]}; }}
.bicycles .text {{ color: {INK}; }}
@media screen and (max-width: 40rem) {{ .result {{ grid-template-columns: minmax(0, 1fr); }} }}
@page {{ margin: 9mm; }}
@media print {{ .inner {{ max-width: none; }} html {{ font-size: 7.2pt; }} body {{ line-height: 1.32; }} h2 {{ margin-top: .7rem; }} main, footer {{ max-width: none; padding: .5rem 0; }}
  header {{ print-color-adjust: exact; -webkit-print-color-adjust: exact; }}
  .result {{ grid-template-columns: minmax(0, 3fr) minmax(0, 2fr); }}
  figure img {{ max-height: 19rem; }} }}
"""


def card_html(card: FitCard) -> str:
    """The card as a whole HTML document; everything that somebody typed is escaped."""
    label = f'<p class="label">{_text(card.label)}</p>' if card.label else ""
    alone = "" if card.drawing else " alone"
    parts = [
        "<!doctype html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        # Nothing is loaded and nothing runs, whatever the texts hold.
        '<meta http-equiv="Content-Security-Policy"'
        " content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'\">",
        f"<title>{CARD_TITLE}</title>",
        f"<style>{_CSS}</style>",
        "</head>",
        "<body>",
        f'<header><div class="inner"><h1>{CARD_TITLE}</h1>{label}',
        f'<p><time datetime="{card.made_on.isoformat()}">{date_text(card.made_on)}</time></p></div>',
        '<div class="marks" aria-hidden="true"></div></header>',
        "<main>",
        f'<div class="result{alone}">',
        _result(card),
        _figure(card.drawing) if card.drawing else "",
        "</div>",
        _bicycles(card.bicycles) if card.bicycles else "",
        _panels(card),
        "</main>",
        _footer(card),
        "</body>",
        "</html>",
    ]
    return "\n".join(part for part in parts if part) + "\n"


def _text(text: str) -> str:
    return escape(unbroken(text))


def _result(card: FitCard) -> str:
    inches, centimetres = result_texts(card.inseam)
    warnings = "".join(f"<p><b>Note:</b> {_text(warning)}</p>" for warning in card.warnings)
    return (
        f'<section aria-label="Result"><p class="quiet">{INSEAM_IS}</p>'
        f'<p class="number">{inches} <span>{centimetres}</span></p>'
        f"{_tape(tape_of(card.inseam), interval_text(card.inseam))}"
        f"<p><b>{_text(interval_text(card.inseam))}</b></p>"
        f"<p><b>How it was measured:</b> {_text(card.measured)}</p>{warnings}</section>"
    )


def _tape(tape: Tape, description: str) -> str:
    """The tape of the PDF as SVG, 600 units wide."""
    low, high, mean = (round(600 * part, 1) for part in (tape.low, tape.high, tape.mean))
    ticks = [_tick(tick, edge=0, towards=1) for tick in tape.inches]
    ticks += [_tick(tick, edge=76, towards=-1) for tick in tape.centimetres]
    return (
        f'<svg class="tape" viewBox="0 0 640 78" role="img" aria-label="{escape(description)}">'
        f'<g font-size="15" fill="{QUIET}"><text x="0" y="22">in</text>'
        '<text x="0" y="66">cm</text></g>'
        f'<g transform="translate(36 1)"><rect width="600" height="76" rx="5" fill="{TAPE}"'
        f' stroke="{LINE}"/><g stroke="{INK}" font-size="14" text-anchor="middle">'
        f"{''.join(ticks)}</g>"
        f'<path d="M{low} 38H{high}" stroke="{BAND}" stroke-width="7"/>'
        f'<path d="M{low} 28v20M{high} 28v20" stroke="{BAND}" stroke-width="3"/>'
        f'<path d="M{mean - 12} 38l12-12 12 12-12 12z" fill="{INK}" stroke="{TAPE}"'
        ' stroke-width="2"/></g></svg>'
    )


def _tick(tick: Tick, *, edge: int, towards: int) -> str:
    x = round(600 * tick.at, 1)
    mark = f'<path d="M{x} {edge}v{towards * (10 if tick.long else 6)}"/>'
    if not tick.text:
        return mark
    base = edge + 23 if towards > 0 else edge - 13
    return f'{mark}<text x="{x}" y="{base}" stroke="none" fill="{INK}">{tick.text}</text>'


def _figure(drawing: CardDrawing) -> str:
    # As a picture of its own the drawing can neither run anything nor clash with the page.
    source = base64.b64encode(drawing.svg.encode()).decode()
    return (
        f'<figure><img src="data:image/svg+xml;base64,{source}"'
        f' alt="{escape(drawing.description)}">'
        f"<figcaption><b>{_text(drawing.caption)}</b>, drawn to scale</figcaption></figure>"
    )


def _bicycles(bicycles: tuple[CardBicycle, ...]) -> str:
    items = "".join(_bicycle(bicycle) for bicycle in bicycles)
    return f'<h2>{BICYCLES_TITLE}</h2>\n<ol class="bicycles">{items}</ol>'


def _bicycle(bicycle: CardBicycle) -> str:
    standing = bicycle.standing
    reasons = "".join(f"<li>{_text(reason)}</li>" for reason in bicycle.reasons)
    cautions = _text(" ".join(bicycle.cautions))
    return (
        f'\n<li class="{standing}"><svg class="sign" viewBox="0 0 24 24" aria-hidden="true">'
        f'{_SIGNS[standing]}</svg><div class="text"><h3>{_text(bicycle.name)}</h3>'
        f'<p class="verdict"><b class="{standing}">{STANDING_WORDS[standing]}.</b>'
        f" {_text(bicycle.headline.rstrip('.'))}.</p>"
        + (f"<ul>{reasons}</ul>" if reasons else "")
        + (f"<p><b>Mind:</b> {cautions}</p>" if cautions else "")
        + "</div></li>"
    )


def _panels(card: FitCard) -> str:
    advice = "".join(f"<li>{_text(text)}</li>" for text in card.advice)
    cautions = "".join(f"<li>{_text(text)}</li>" for text in CAUTIONS)
    first = (
        f'<section class="advice"><h2>{ADVICE_TITLE}</h2><ol>{advice}</ol></section>'
        if advice
        else ""
    )
    return (
        f'<div class="panels">{first}'
        f'<section class="cautions"><h2>{CAUTIONS_TITLE}</h2><ul>{cautions}</ul></section></div>'
    )


def _footer(card: FitCard) -> str:
    checked = f"<b>{_text(card.checked)}</b>" if card.checked else ""
    who = " ".join(part for part in (checked, _text(card.shop)) if part)
    line = f"<p>{who}</p>" if who else ""
    return f'<footer>{line}<p class="quiet">{FOOTNOTE}</p></footer>'
