"""Texts of a case's history."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["EVENTS", "EventTexts"]


@dataclass(frozen=True, slots=True)
class EventTexts:
    """One line of history each."""

    sent_in: str
    another_picture: str
    gave_out: str
    moved_points: str
    added: str
    corrected: str
    accepted: str
    accepted_corrected: str
    asked: str
    overrode: str
    taped: str
    joined: str
    parted: str
    reopened: str
    removed_picture: str
    fit_card: str
    table: str
    noted: str
    family: str


EVENTS: Final[Mapping[Language, EventTexts]] = {
    "en": EventTexts(
        sent_in="sent in",
        another_picture="sent another picture",
        gave_out="gave out the {what}",
        moved_points="moved points in the picture",
        added="added: {clue}",
        corrected="corrected name, day or child",
        accepted="accepted the estimate",
        accepted_corrected="accepted the corrected estimate",
        asked="asked for another picture",
        overrode="set the inseam to {length}: {reason}",
        taped="took the tape in the shop: {length}",
        joined="joined the child’s cases",
        parted="took the case out of the child’s",
        reopened="reopened: {reason}",
        removed_picture="removed the picture",
        fit_card="fit card",
        table="table",
        noted="{did}: {note}",
        family="family",
    ),
    "es": EventTexts(
        sent_in="enviado",
        another_picture="envió otra foto",
        gave_out="entregó: {what}",
        moved_points="movió puntos en la foto",
        added="añadió: {clue}",
        corrected="corrigió nombre, día o niño",
        accepted="aceptó la medida",
        accepted_corrected="aceptó la medida corregida",
        asked="pidió otra foto",
        overrode="puso la entrepierna en {length}: {reason}",
        taped="tomó la cinta en la tienda: {length}",
        joined="unió los casos del niño",
        parted="separó el caso de los del niño",
        reopened="reabrió: {reason}",
        removed_picture="quitó la foto",
        fit_card="ficha",
        table="tabla",
        noted="{did}: {note}",
        family="familia",
    ),
}
