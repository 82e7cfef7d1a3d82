"""Texts of an answer that is shared by a link."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["SHARING", "ShareTexts"]


@dataclass(frozen=True, slots=True)
class ShareTexts:
    """Making a link, taking it back, and the page that it opens."""

    title: str
    what: str
    changed: str
    make: str
    link: str
    until: str
    take_back: str
    page_title: str
    ended_title: str
    ended: str


SHARING: Final[Mapping[Language, ShareTexts]] = {
    "en": ShareTexts(
        title="Share this answer",
        what="The link shows the bicycle, the inseam and how sure both are. It shows no picture and"
        " nothing you typed.",
        changed="The answer has changed. The link below still shows the earlier one; a new link ends it.",
        make="Make a link",
        link="Send this link",
        until="It works until {day} at the latest. Whoever has the link can open it. Until then the shop’s"
        " case book holds this answer; then it is deleted.",
        take_back="End the link now",
        page_title="Somebody shared this answer with you",
        ended_title="This link has ended",
        ended="Ask whoever sent it for a new one.",
    ),
    "es": ShareTexts(
        title="Compartir esta respuesta",
        what="El enlace muestra la bicicleta, la entrepierna y lo seguras que son. No muestra"
        " ninguna foto ni nada de lo que usted escribió.",
        changed="La respuesta ha cambiado. El enlace de abajo muestra aún la anterior; uno nuevo lo"
        " anula.",
        make="Crear un enlace",
        link="Envíe este enlace",
        until="Funciona como mucho hasta el {day}. Lo puede abrir quien tenga el enlace. Hasta entonces"
        " el registro de la tienda guarda esta respuesta; después se borra.",
        take_back="Anular el enlace ahora",
        page_title="Alguien ha compartido esta respuesta con usted",
        ended_title="Este enlace ya no funciona",
        ended="Pida uno nuevo a quien se lo envió.",
    ),
}
