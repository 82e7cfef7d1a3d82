"""The card's own words, in each language."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.fit.words import GENERAL_CAUTIONS
from pose_fit.inseam.inseam import Method

__all__ = ["CARD_TEXTS", "CardLanguage", "CardTexts"]

CardLanguage = Literal["en", "es"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardTexts:
    """From top to bottom; with places for ``{length}`` and the like."""

    title: str
    date: str
    months: tuple[str, ...]
    inseam_is: str
    inseam_on: str
    interval: str
    measured: str
    methods: Mapping[Method, str]
    note: str
    more_notes: str
    to_scale: str
    standing: str
    pushing: str
    bicycles: str
    not_certain: str
    not_in_stock: str
    caution: str
    advice: str
    cautions_title: str
    cautions: tuple[str, ...]
    footnote: str


CARD_TEXTS: Final[Mapping[CardLanguage, CardTexts]] = {
    "en": CardTexts(
        title="Fit card",
        date="{day} {month} {year}",
        months=(
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ),
        inseam_is="Inseam: floor to crotch, barefoot, standing straight",
        inseam_on="Inseam expected on {day}: floor to crotch, barefoot, standing straight",
        interval="19 times in 20 (95 %) it lies between {low} and {high}.",
        measured="How it was measured: ",
        methods={
            "photo": "From a photo, with an object of known size in it.",
            "tape": "With a tape, from the floor to a book between the legs.",
            "trousers": "From a pair of trousers that fits: a rough reading.",
            "lift": "From lifting a bicycle until its top tube touched.",
            "stature": "Guessed from the child’s height: a rough reading.",
            "age": "Guessed from the child’s age: a very rough reading.",
            "combined": "From several readings together, each weighted by how sure it is.",
            "stated": "Stated by the fitter.",
        },
        note="Note: ",
        more_notes="And {count} more, not shown here.",
        to_scale=", drawn to scale",
        standing="Drawing to scale: a child with an inseam of {length} standing over {name}. {word}.",
        pushing="Drawing to scale: a child with an inseam of {length} pushing {name}. {word}.",
        bicycles="The bicycles, best first",
        not_certain="{word}, not certain",
        not_in_stock="not in stock; {to_do}",
        caution="Caution: ",
        advice="What to do next",
        cautions_title="Before the first ride",
        cautions=GENERAL_CAUTIONS,
        footnote="This card holds nothing about the child but what was measured and what you typed.",
    ),
    "es": CardTexts(
        title="Ficha",
        date="{day} de {month} de {year}",
        months=(
            "enero",
            "febrero",
            "marzo",
            "abril",
            "mayo",
            "junio",
            "julio",
            "agosto",
            "septiembre",
            "octubre",
            "noviembre",
            "diciembre",
        ),
        inseam_is="Entrepierna: del suelo al tiro, descalzo y derecho",
        inseam_on="Entrepierna prevista para el {day}: del suelo al tiro, descalzo y derecho",
        interval="19 de cada 20 veces (95 %) está entre {low} y {high}.",
        measured="Cómo se midió: ",
        methods={
            "photo": "Con una foto en la que hay un objeto de tamaño conocido.",
            "tape": "Con cinta, del suelo a un libro entre las piernas.",
            "trousers": "Por un pantalón que le queda bien: una medida aproximada.",
            "lift": "Levantando una bicicleta hasta que tocó el tubo superior.",
            "stature": "Calculada por la estatura: una medida aproximada.",
            "age": "Calculada por la edad: una medida muy aproximada.",
            "combined": "Con varias medidas juntas; cuenta más la más segura.",
            "stated": "Dicha por la tienda.",
        },
        note="Nota: ",
        more_notes="Y {count} más que no se muestran aquí.",
        to_scale=", a escala",
        standing="Dibujo a escala: un niño con una entrepierna de {length} de pie sobre {name}."
        " {word}.",
        pushing="Dibujo a escala: un niño con una entrepierna de {length} en {name}. {word}.",
        bicycles="Las bicicletas, la mejor primero",
        not_certain="{word}, sin certeza",
        not_in_stock="no está en la tienda; {to_do}",
        caution="Atención: ",
        advice="Qué hacer ahora",
        cautions_title="Antes de montar por primera vez",
        cautions=(
            "Esto ayuda a elegir qué bicicletas probar. Después el niño se pone sobre ella con los"
            " zapatos de montar, los dos pies planos en el suelo y un adulto que la sujete.",
            "Decide un profesional. Frenos, dirección y tornillos se revisan antes de montar.",
            "Un casco de su talla, siempre. Pregunte qué más pide la ley donde vive.",
        ),
        footnote="Esta ficha no contiene nada del niño, salvo lo medido y lo que usted escribió.",
    ),
}
