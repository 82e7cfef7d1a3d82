"""Texts of what staff can do with a case, and of the forms for it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.app.texts.language import Language

__all__ = ["ACTIONS", "MORE", "VERDICTS", "ActionTexts", "Grade", "More", "Verdict"]

#: What staff decide, and what else they can do.
Verdict = Literal["accept", "ask", "override"]
More = Literal["tape", "clue", "correct", "reopen", "delete"]
#: How sure staff are of a number of their own.
Grade = Literal["sure", "fairly", "not_sure"]

VERDICTS: Final[tuple[Verdict, ...]] = ("accept", "ask", "override")
MORE: Final[tuple[More, ...]] = ("tape", "clue", "correct", "delete")


@dataclass(frozen=True, slots=True)
class ActionTexts:
    """What staff can do, and the forms for it."""

    verdict: str
    verdicts: Mapping[Verdict, str]
    more: str
    mores: Mapping[More, str]
    no_estimate: str
    not_kept: str
    note: str
    accept: str
    accept_corrected: str
    letter: str
    letter_help: str
    ask: str
    inseam: str
    sure: str
    grades: Mapping[Grade, str]
    reason: str
    override: str
    reopen: str
    kind: str
    kinds: tuple[str, str]
    remark: str
    add: str
    label: str
    wanted_for: str
    save: str
    delete_pictures: str
    delete_words: str
    confirm: str
    delete: str
    deleted: str
    tape_words: str
    tape_holder: str
    tape_day: str
    tape_bicycle: str
    tape_tried: str
    tape_touched: tuple[str, str, str]
    tape_keep: str


ACTIONS: Final[Mapping[Language, ActionTexts]] = {
    "en": ActionTexts(
        verdict="Your decision",
        verdicts={
            "accept": "Accept",
            "ask": "Ask for another picture",
            "override": "Give another number",
        },
        more="More",
        mores={
            "tape": "Tape in the shop",
            "clue": "Add a reading or remark",
            "correct": "Correct name, day or child",
            "reopen": "Reopen",
            "delete": "Delete",
        },
        no_estimate="There is no estimate to accept. Give a number, or ask for another picture.",
        not_kept="You changed photo {number}, and the number above is from before. Keep the change or"
        " take it back; then accept.",
        note="Note to the family, optional",
        accept="Accept the estimate",
        accept_corrected="Accept the corrected estimate",
        letter="Text for the family",
        letter_help="The family reads it under My case. You may also copy it into a mail.",
        ask="Ask for another picture now",
        inseam="Inseam",
        sure="How sure is it?",
        grades={
            "sure": "Sure: give or take {half}",
            "fairly": "Fairly sure: {half}",
            "not_sure": "Not sure: {half}",
        },
        reason="Reason",
        override="Answer with this number",
        reopen="Reopen the case",
        kind="What to add",
        kinds=("Tape readings", "Remark"),
        remark="Remark",
        add="Add it",
        label="Name or number",
        wanted_for="Wanted for",
        save="Save",
        delete_pictures="Delete only the pictures",
        delete_words="The case goes with its pictures, numbers, tape and history, for good.",
        confirm="Type {number} to confirm",
        delete="Delete for good",
        deleted="Case {number} is deleted.",
        tape_words="For a child who stands in the shop. The tape does not change this estimate: it"
        " shows how far photos can be trusted here, and corrects the next ones.",
        tape_holder="Who held the tape",
        tape_day="Day",
        tape_bicycle="Bicycle tried, optional",
        tape_tried="The child stood over it, and",
        tape_touched=("no bicycle was tried", "it touched", "it did not touch"),
        tape_keep="Keep the tape",
    ),
    "es": ActionTexts(
        verdict="Su decisión",
        verdicts={
            "accept": "Aceptar",
            "ask": "Pedir otra foto",
            "override": "Dar otro número",
        },
        more="Más",
        mores={
            "tape": "Cinta en la tienda",
            "clue": "Añadir una medida o nota",
            "correct": "Corregir nombre, día o niño",
            "reopen": "Reabrir",
            "delete": "Borrar",
        },
        no_estimate="No hay medida que aceptar. Dé un número o pida otra foto.",
        not_kept="Cambió la foto {number}, y el número de arriba es el de antes. Guarde el cambio o"
        " deshágalo; después acepte.",
        note="Nota para la familia, opcional",
        accept="Aceptar la medida",
        accept_corrected="Aceptar la medida corregida",
        letter="Texto para la familia",
        letter_help="La familia lo lee en Mi caso. También puede copiarlo en un correo.",
        ask="Pedir otra foto ahora",
        inseam="Entrepierna",
        sure="¿Es seguro?",
        grades={
            "sure": "Seguro: más o menos {half}",
            "fairly": "Bastante seguro: {half}",
            "not_sure": "Poco seguro: {half}",
        },
        reason="Motivo",
        override="Responder con este número",
        reopen="Reabrir el caso",
        kind="Qué añadir",
        kinds=("Medidas con cinta", "Nota"),
        remark="Nota",
        add="Añadir",
        label="Nombre o número",
        wanted_for="Para el día",
        save="Guardar",
        delete_pictures="Borrar solo las fotos",
        delete_words="El caso se va con sus fotos, números, cinta e historia, para siempre.",
        confirm="Escriba {number} para confirmar",
        delete="Borrar para siempre",
        deleted="El caso {number} está borrado.",
        tape_words="Para un niño que está en la tienda. La cinta no cambia esta medida: muestra"
        " cuánto se puede confiar aquí en las fotos, y corrige las siguientes.",
        tape_holder="Quién sostuvo la cinta",
        tape_day="Día",
        tape_bicycle="Bicicleta probada, opcional",
        tape_tried="El niño se puso sobre ella, y",
        tape_touched=("no se probó ninguna", "tocaba", "no tocaba"),
        tape_keep="Guardar la cinta",
    ),
}
