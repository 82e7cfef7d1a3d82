"""Texts of the further forms: the list of bicycles, the present bicycle, trousers, card, sending."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.bicycle.bicycle import Frame
from pose_fit.fit.lift import Lifted

__all__ = [
    "CARD",
    "CATALOGUE",
    "OWN_BICYCLE",
    "SENDING",
    "TROUSERS",
    "CardTexts",
    "CatalogueTexts",
    "OwnBicycleTexts",
    "SendingTexts",
    "TrousersTexts",
]


@dataclass(frozen=True, slots=True)
class CatalogueTexts:
    """The list of bicycles."""

    which: str
    demo: str
    shop: str
    own: str
    upload: str
    needs: str
    needs_words: str
    columns: tuple[str, str]
    either: str
    fault: str
    read: str
    not_utf8: str


CATALOGUE: Final[Mapping[Language, CatalogueTexts]] = {
    "en": CatalogueTexts(
        which="Bicycles",
        demo="The demo shop’s bicycles",
        shop="The shop’s bicycles",
        own="A list of my own (CSV)",
        upload="List of bicycles",
        needs="What the list needs",
        needs_words="One line for each bicycle below a header line.",
        columns=("column", "what to measure"),
        either=" or ",
        fault="The list cannot be used yet.",
        read="{name}: {count} bicycles",
        not_utf8="{name} is not UTF-8 text. Save the table as “CSV UTF-8”.",
    ),
    "es": CatalogueTexts(
        which="Bicicletas",
        demo="Las de la tienda de muestra",
        shop="Las de la tienda",
        own="Una lista propia (CSV)",
        upload="Lista de bicicletas",
        needs="Qué necesita la lista",
        needs_words="Una línea por bicicleta bajo una línea de títulos.",
        columns=("columna", "qué medir"),
        either=" o ",
        fault="La lista todavía no se puede usar.",
        read="{name}: {count} bicicletas",
        not_utf8="{name} no es texto UTF-8. Guarde la tabla como «CSV UTF-8».",
    ),
}


@dataclass(frozen=True, slots=True)
class OwnBicycleTexts:
    """A bicycle the family has."""

    marking: str
    marking_example: str
    frame: str
    frames: Mapping[Frame, str]
    standover: str
    standover_note: str
    lift: str
    lift_note: str
    lifted: str
    lifted_words: Mapping[Lifted, str]
    wheelbase: str
    saddle_low: str
    saddle_high: str
    needed: str
    still_needed: str
    measure_first: str
    name: str


OWN_BICYCLE: Final[Mapping[Language, OwnBicycleTexts]] = {
    "en": OwnBicycleTexts(
        marking="Marking on the tyre’s sidewall",
        marking_example="for example 47-406 or 20 x 1.75",
        frame="Frame",
        frames={
            "sloping": "the top tube slopes",
            "level": "the top tube is level",
            "step_through": "no top tube: a step-through",
        },
        standover="Standover: floor to the top of the top tube",
        standover_note="Measured upright on its tyres, just ahead of the saddle.",
        lift="Lift until the top tube touches",
        lift_note="The child stands over it in shoes, both feet flat. Lift the bicycle gently until"
        " the tube touches, and measure the gap under the tyre.",
        lifted="Lifted was",
        lifted_words={
            "whole": "the whole bicycle, both wheels",
            "front_wheel": "the front wheel, rear wheel on the ground",
        },
        wheelbase="Wheelbase: axle to axle",
        saddle_low="Saddle at its lowest",
        saddle_high="Saddle at its limit mark",
        needed="Needed: the tyre’s marking, and the standover height or the lift.",
        still_needed="Still needed: the standover height, or the lift of the whole bicycle.",
        measure_first="Measure the child first, by picture or tape.",
        name="The present bicycle",
    ),
    "es": OwnBicycleTexts(
        marking="Medida en el costado del neumático",
        marking_example="por ejemplo 47-406 o 20 x 1.75",
        frame="Cuadro",
        frames={
            "sloping": "el tubo superior baja hacia atrás",
            "level": "el tubo superior es horizontal",
            "step_through": "sin tubo superior: cuadro abierto",
        },
        standover="Altura: del suelo a la parte alta del tubo superior",
        standover_note="Medida con la bicicleta derecha, justo delante del sillín.",
        lift="Cuánto se levanta hasta que toca el tubo",
        lift_note="El niño se pone sobre ella con zapatos y los dos pies planos. Levante la bicicleta"
        " con suavidad hasta que el tubo toque y mida el hueco bajo el neumático.",
        lifted="Se levantó",
        lifted_words={
            "whole": "la bicicleta entera, las dos ruedas",
            "front_wheel": "la rueda delantera, con la trasera en el suelo",
        },
        wheelbase="Distancia entre ejes",
        saddle_low="Sillín en lo más bajo",
        saddle_high="Sillín en su marca de límite",
        needed="Hace falta la medida del neumático, y la altura o cuánto se levanta.",
        still_needed="Falta la altura, o cuánto se levanta la bicicleta entera.",
        measure_first="Mida antes al niño, con foto o con cinta.",
        name="La bicicleta actual",
    ),
}


@dataclass(frozen=True, slots=True)
class TrousersTexts:
    """Trousers that fit."""

    seam: str
    seam_note: str
    hem: str
    hem_note: str


TROUSERS: Final[Mapping[Language, TrousersTexts]] = {
    "en": TrousersTexts(
        seam="Inside seam of trousers that fit",
        seam_note="Crotch seam to hem along the inside of the leg, laid flat.",
        hem="Hem above the floor when worn",
        hem_note="Barefoot. Left empty, a usual height is assumed.",
    ),
    "es": TrousersTexts(
        seam="Costura interior de un pantalón que le queda bien",
        seam_note="De la costura de la entrepierna al bajo, por dentro de la pierna, extendido.",
        hem="Del bajo al suelo, puesto",
        hem_note="Descalzo. Vacío: se supone una altura corriente.",
    ),
}


@dataclass(frozen=True, slots=True)
class CardTexts:
    """The fit card."""

    note: str
    label: str
    pdf: str
    html: str


CARD: Final[Mapping[Language, CardTexts]] = {
    "en": CardTexts(
        note="One page with the result, bicycles, a drawing and cautions. Nothing on it names the"
        " child but what you type.",
        label="Name or words on the card",
        pdf="PDF, {paper}",
        html="Web page (HTML)",
    ),
    "es": CardTexts(
        note="Una página con el resultado, bicicletas, un dibujo y avisos. Nada en ella"
        " nombra al niño, salvo lo que usted escriba.",
        label="Nombre o palabras en la ficha",
        pdf="PDF, {paper}",
        html="Página web (HTML)",
    ),
}


@dataclass(frozen=True, slots=True)
class SendingTexts:
    """Sending to the shop."""

    measure_first: str
    label: str
    label_example: str
    earlier: str
    keep: str
    keep_help: str
    unseen: str
    send: str
    sent: str
    sent_before: str
    refused_code: str


SENDING: Final[Mapping[Language, SendingTexts]] = {
    "en": SendingTexts(
        measure_first="Measure something first.",
        label="A name or number by which you will be found again",
        label_example="what you like; optional",
        earlier="Reply code, if the shop asked for another picture",
        keep="Keep the picture with it, face hidden, so that the shop can check it",
        keep_help="Without it only numbers are kept. The shop can delete either for good.",
        unseen="The shop never sees a face, your original files, or a picture with several people in"
        " it. Without the tick it sees no picture at all.",
        send="Send to the shop",
        sent="Sent. Your reply code is **{code}**. Quote it when you ask, or send another picture.",
        sent_before="This was sent already; it was not sent again.",
        refused_code="The shop did not take it: {fault}",
    ),
    "es": SendingTexts(
        measure_first="Mida algo primero.",
        label="Un nombre o número para encontrarle",
        label_example="el que quiera; opcional",
        earlier="Código de respuesta, si la tienda pidió otra foto",
        keep="Guardar la foto, con la cara oculta, para que la tienda la compruebe",
        keep_help="Sin ella solo se guardan números. La tienda puede borrarlo todo para siempre.",
        unseen="La tienda nunca ve una cara, ni sus archivos originales, ni una foto con varias"
        " personas. Sin la marca no ve ninguna foto.",
        send="Enviar a la tienda",
        sent="Enviado. Su código de respuesta es **{code}**. Dígalo al preguntar o al enviar otra"
        " foto.",
        sent_before="Esto ya se envió; no se ha enviado otra vez.",
        refused_code="La tienda no lo ha aceptado: {fault}",
    ),
}
