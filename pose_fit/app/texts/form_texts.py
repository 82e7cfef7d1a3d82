"""Texts of the questions about what is worn, the child and the tape."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.fit.clearance import Skill
from pose_fit.inseam.from_tape import Care
from pose_fit.task.legwear import Legwear

__all__ = [
    "CHILD",
    "LENGTHS",
    "SAMPLES",
    "TAPE",
    "WORN",
    "ChildTexts",
    "LengthTexts",
    "SampleTexts",
    "TapeTexts",
    "WornTexts",
]


@dataclass(frozen=True, slots=True)
class WornTexts:
    """Feet, legs and heels in the picture."""

    feet: str
    barefoot: str
    shoes: str
    not_known: str
    soles: str
    legs: str
    legwear: Mapping[Legwear, str]
    heels: str
    heels_in_all: str
    heels_yes: str
    heels_no: str
    heels_retake: str


WORN: Final[Mapping[Language, WornTexts]] = {
    "en": WornTexts(
        feet="What is on the feet in the picture?",
        barefoot="Barefoot or socks",
        shoes="Shoes",
        not_known="I don’t know",
        soles="Their soles",
        legs="What is on the legs in the picture?",
        legwear={
            "snug": "Leggings or bare legs",
            "fitted": "Ordinary trousers or shorts",
            "loose": "Loose trousers",
            "hidden": "A skirt or long top",
        },
        heels="Were both heels on the floor?",
        heels_in_all="Were both heels on the floor, in each of these pictures?",
        heels_yes="Yes, both heels were down",
        heels_no="No, or I am not sure",
        heels_retake="Then please take the picture again, with both heels flat on the floor.",
    ),
    "es": WornTexts(
        feet="¿Qué lleva en los pies en la foto?",
        barefoot="Descalzo o calcetines",
        shoes="Zapatos",
        not_known="No lo sé",
        soles="Grosor de la suela (mm)",
        legs="¿Qué lleva en las piernas en la foto?",
        legwear={
            "snug": "Mallas o piernas desnudas",
            "fitted": "Pantalón normal, largo o corto",
            "loose": "Pantalón ancho",
            "hidden": "Falda o prenda larga",
        },
        heels="¿Estaban los dos talones en el suelo?",
        heels_in_all="¿Estaban los dos talones en el suelo, en cada una de estas fotos?",
        heels_yes="Sí, los dos en el suelo",
        heels_no="No, o no estoy seguro",
        heels_retake="Entonces repita la foto, por favor, con los dos talones en el suelo.",
    ),
}


@dataclass(frozen=True, slots=True)
class ChildTexts:
    """The child and how it rides."""

    age: str
    age_help: str
    optional: str
    sex: str
    sexes: Mapping[str, str]
    stature: str
    skill: str
    skills: Mapping[Skill, str]
    riding_soles: str
    riding_soles_help: str
    use: str
    use_help: str
    stretch: str
    stretch_help: str


CHILD: Final[Mapping[Language, ChildTexts]] = {
    "en": ChildTexts(
        age="Age in years",
        age_help="Guards against slips, and tells how fast the legs will grow.",
        optional="optional",
        sex="Girl or boy",
        sexes={"": "not said", "f": "girl", "m": "boy"},
        stature="Body height, no shoes",
        skill="How the child rides",
        skills={
            "first_pedals": "is learning: both feet flat on the ground",
            "sure": "starts and stops alone",
            "off_road": "rides off the road too",
        },
        riding_soles="Sole of the riding shoe",
        riding_soles_help="Thickness under the heel, measured with a ruler. Without it, {usual} is"
        " assumed.",
        use="Let age and height take part in the measurement",
        use_help="Without it they only tell whether the result is plausible.",
        stretch="Accept a little less room, to grow into",
        stretch_help="Never a top tube that touches.",
    ),
    "es": ChildTexts(
        age="Edad en años",
        age_help="Evita errores y dice a qué ritmo crecerán las piernas.",
        optional="opcional",
        sex="Niña o niño",
        sexes={"": "sin decir", "f": "niña", "m": "niño"},
        stature="Estatura sin zapatos",
        skill="Cómo monta",
        skills={
            "first_pedals": "está aprendiendo: los dos pies planos en el suelo",
            "sure": "arranca y para sin ayuda",
            "off_road": "también monta por el campo",
        },
        riding_soles="Suela del zapato para montar",
        riding_soles_help="Grosor bajo el talón, medido con una regla. Sin él se suponen {usual}.",
        use="Contar con la edad y la estatura al medir",
        use_help="Sin ello solo dicen si el resultado es creíble.",
        stretch="Aceptar un poco menos de espacio, para crecer",
        stretch_help="Nunca un tubo superior que toque.",
    ),
}


@dataclass(frozen=True, slots=True)
class TapeTexts:
    """The tape form."""

    title: str
    how: str
    reading: str
    care: str
    cares: Mapping[Care, str]
    show: str
    check_title: str
    check: str
    drawn: tuple[tuple[str, str], ...]
    drawn_alt: str


TAPE: Final[Mapping[Language, TapeTexts]] = {
    "en": TapeTexts(
        title="Measure with a tape",
        how="Barefoot, back to the wall, a book pulled up firmly between the legs. Measure from the"
        " top of the book to the floor. Three times is best.",
        reading="Reading {number}",
        care="Measured",
        cares={"careful": "with care, as drawn", "hasty": "in a hurry, or in shoes"},
        show="Show the answer",
        check_title="Is this the inseam?",
        check="Measure again from the floor to the crotch, and check the age and the body height."
        " It is not used until they go together.",
        drawn=(
            ("Barefoot, heels and", "back to the wall"),
            ("Book pulled up firmly,", "its edge on the wall"),
            ("Tape from the top of", "the book to the floor"),
            ("Three times, taking the", "book out in between"),
        ),
        drawn_alt="A child stands barefoot against a wall with a book between the legs, its back edge"
        " to the wall, pulled up firmly. A tape runs from the top edge of the book down to the floor.",
    ),
    "es": TapeTexts(
        title="Medir con una cinta",
        how="Descalzo, de espaldas a la pared, con un libro bien subido entre las piernas. Mida desde"
        " el borde superior del libro hasta el suelo. Mejor tres veces.",
        reading="Medida {number}",
        care="Medido",
        cares={"careful": "con cuidado, como en el dibujo", "hasty": "deprisa o con zapatos"},
        show="Ver la respuesta",
        check_title="¿Es esta la entrepierna?",
        check="Mida otra vez del suelo a la entrepierna y compruebe la edad y la estatura. No se usa"
        " hasta que concuerden.",
        drawn=(
            ("Descalzo, talones y", "espalda en la pared"),
            ("Libro bien subido, con", "el borde en la pared"),
            ("Cinta desde lo alto", "del libro hasta el suelo"),
            ("Tres veces, sacando", "el libro entre medidas"),
        ),
        drawn_alt="Un niño descalzo contra una pared, con un libro entre las piernas, el canto en la"
        " pared y bien subido. Una cinta va del borde superior del libro hasta el suelo.",
    ),
}


@dataclass(frozen=True, slots=True)
class LengthTexts:
    """Fields for a length."""

    example: str
    unread: str
    other_unit: str


LENGTHS: Final[Mapping[Language, LengthTexts]] = {
    "en": LengthTexts(
        example="for example {number}",
        unread="“{text}” is not a length. Write for example 25.5 in or 64.8 cm.",
        other_unit="This was read as {read}. Did you mean {number} {unit}? Write the unit behind the number:"
        " “{number} {unit}” or “{number} {here}”.",
    ),
    "es": LengthTexts(
        example="por ejemplo {number}",
        unread="«{text}» no es una longitud. Escriba por ejemplo 64.8 cm o 25.5 in.",
        other_unit="Se leyó como {read}. ¿Quería decir {number} {unit}? Escriba la unidad detrás del número:"
        " «{number} {unit}» o «{number} {here}».",
    ),
}


@dataclass(frozen=True, slots=True)
class SampleTexts:
    """The sample pictures in their list."""

    title: str
    kinds: Mapping[str, str]


SAMPLES: Final[Mapping[Language, SampleTexts]] = {
    "en": SampleTexts(
        title="Child of {age} beside {kind} ({name})",
        kinds={
            "sheet": "the printed sheet",
            "letter": "Letter paper",
            "a4": "A4 paper",
            "door": "a door",
            "wheel": "a bicycle wheel",
            "length": "a known length",
        },
    ),
    "es": SampleTexts(
        title="Niño de {age} años junto a {kind} ({name})",
        kinds={
            "sheet": "la hoja impresa",
            "letter": "papel Carta",
            "a4": "papel A4",
            "door": "una puerta",
            "wheel": "una rueda de bicicleta",
            "length": "una longitud conocida",
        },
    ),
}
