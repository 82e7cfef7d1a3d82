"""The words of photo against tape, in each language: for command line, plot and shop page."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.pairs.agreement import Grouping

__all__ = ["ENGLISH", "PAIR_TEXTS", "PairTexts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PairTexts:
    """Sentences with places for ``{count}`` and the like; lengths in millimetres."""

    here: str
    all_shops: str
    child: str
    children: str
    bias: str
    bias_of_one: str
    too_long: str
    too_short: str
    perhaps_chance: str
    spread: str
    spread_small: str
    limits: str
    covered: str
    no_correction: str
    shorter: str
    longer: str
    hardly: str
    second_look: str
    look_longer: str
    look_shorter: str
    group: str
    groupings: Mapping[Grouping, str]
    objects: Mapping[str, str]
    several_objects: str
    legwear: Mapping[str, str]
    cares: Mapping[str, str]
    not_said: str
    # The difference plot.
    plot_bias: str
    plot_low: str
    plot_high: str
    plot_across: str
    plot_upwards: str
    plot_words: str
    plot_limits: str
    plot_odd: str

    def count_of(self, children: int) -> str:
        """So many children."""
        return self.child if children == 1 else self.children.format(count=children)


ENGLISH: Final = PairTexts(
    here="In this shop, {children}",
    all_shops="In all shops, {children}",
    child="1 child",
    children="{count} children",
    bias="{where}: off by {apart} ± {half} mm.",
    bias_of_one="{where}: off by {apart} mm.",
    too_long="Photos read too long.",
    too_short="Photos read too short.",
    perhaps_chance="That may be chance.",
    spread="Single children differ by {sd} mm ({low} to {high}).",
    spread_small="Single children differ by less than 1 mm.",
    limits="95 in 100 photos lie between {low} and {high} mm from the tape.",
    covered="{covered} of {count} lie within the interval that was stated ({low} to {high} %; 95 % is"
    " promised).",
    no_correction="No correction: there is no pair of photo and tape yet.",
    shorter="Corrected: {apart} mm shorter, give or take {half} mm, as {children} measured by photo"
    " and by tape show.",
    longer="Corrected: {apart} mm longer, give or take {half} mm, as {children} measured by photo and"
    " by tape show.",
    hardly="Corrected by less than 1 mm, give or take {half} mm, as {children} measured by photo and by"
    " tape show.",
    second_look="{name}: {apart}, taken on {day} by {holder}. Was the tape read at the right end and"
    " written down right, and is it the same child?",
    look_longer="the photo is {apart} mm longer than the tape",
    look_shorter="the photo is {apart} mm shorter than the tape",
    group="{what}: {name}",
    groupings={
        "object": "object",
        "legwear": "legwear",
        "taken_by": "tape held by",
        "care": "tape",
        "shop": "shop",
    },
    objects={
        "auto": "whatever was found",
        "sheet": "our sheet",
        "letter": "Letter paper",
        "a4": "A4 paper",
        "door": "a door",
        "wheel": "a wheel",
        "length": "a known length",
        "book": "the book",
        "height": "the body height",
    },
    several_objects="several objects",
    legwear={
        "snug": "leggings or bare legs",
        "fitted": "ordinary trousers or shorts",
        "loose": "loose trousers",
        "hidden": "a skirt or long top",
    },
    cares={"careful": "with care", "hasty": "in a hurry, or in shoes"},
    not_said="not said",
    plot_bias="bias {value}",
    plot_low="lower limit {value}",
    plot_high="upper limit {value}",
    plot_across="Mean of photo and tape",
    plot_upwards="Photo minus tape (mm)",
    plot_words="Photo minus tape of {count} children. Mean {bias} mm.",
    plot_limits="95 in 100 lie between {low} and {high} mm.",
    plot_odd="Look again at {names}.",
)

_SPANISH: Final = PairTexts(
    here="En esta tienda, {children}",
    all_shops="En todas las tiendas, {children}",
    child="1 niño",
    children="{count} niños",
    bias="{where}: error de {apart} ± {half} mm.",
    bias_of_one="{where}: error de {apart} mm.",
    too_long="Las fotos dan de más.",
    too_short="Las fotos dan de menos.",
    perhaps_chance="Puede ser casualidad.",
    spread="Entre niños varía {sd} mm (de {low} a {high}).",
    spread_small="Entre niños varía menos de 1 mm.",
    limits="95 de cada 100 fotos quedan entre {low} y {high} mm de la cinta.",
    covered="{covered} de {count} están dentro del intervalo que se dijo (del {low} al {high} %; se"
    " promete el 95 %).",
    no_correction="Sin corrección: todavía no hay ningún niño medido con foto y con cinta.",
    shorter="Corregido: {apart} mm menos, más o menos {half} mm, como muestran {children} medidos con"
    " foto y con cinta.",
    longer="Corregido: {apart} mm más, más o menos {half} mm, como muestran {children} medidos con"
    " foto y con cinta.",
    hardly="Corregido en menos de 1 mm, más o menos {half} mm, como muestran {children} medidos con foto"
    " y con cinta.",
    second_look="{name}: {apart}, tomada el {day} por {holder}. ¿Se leyó la cinta por el extremo"
    " correcto, se apuntó bien y es el mismo niño?",
    look_longer="la foto da {apart} mm más que la cinta",
    look_shorter="la foto da {apart} mm menos que la cinta",
    group="{what}: {name}",
    groupings={
        "object": "objeto",
        "legwear": "ropa de las piernas",
        "taken_by": "cinta de",
        "care": "cinta",
        "shop": "tienda",
    },
    objects={
        "auto": "lo que se encontró",
        "sheet": "nuestra hoja",
        "letter": "papel Carta",
        "a4": "papel A4",
        "door": "una puerta",
        "wheel": "una rueda",
        "length": "una longitud conocida",
        "book": "el libro",
        "height": "la estatura",
    },
    several_objects="varios objetos",
    legwear={
        "snug": "mallas o piernas desnudas",
        "fitted": "pantalón normal, largo o corto",
        "loose": "pantalón ancho",
        "hidden": "falda o prenda larga",
    },
    cares={"careful": "con cuidado", "hasty": "con prisa o con zapatos"},
    not_said="sin decir",
    plot_bias="media {value}",
    plot_low="límite bajo {value}",
    plot_high="límite alto {value}",
    plot_across="Media de foto y cinta",
    plot_upwards="Foto menos cinta (mm)",
    plot_words="Foto menos cinta de {count} niños. Media {bias} mm.",
    plot_limits="95 de cada 100 están entre {low} y {high} mm.",
    plot_odd="Mire otra vez {names}.",
)

PAIR_TEXTS: Final[Mapping[Literal["en", "es"], PairTexts]] = {"en": ENGLISH, "es": _SPANISH}
