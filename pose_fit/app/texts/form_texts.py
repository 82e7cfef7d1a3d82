"""Texts of the questions about pictures, the child and the tape."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.body.body import Landmark
from pose_fit.fit.policy import Skill
from pose_fit.inseam.from_tape import Care
from pose_fit.reference.reference import Placement, ReferenceKind
from pose_fit.task.legwear import Legwear

__all__ = [
    "CHILD",
    "CORRECTING",
    "LENGTHS",
    "OBJECT",
    "POINTING",
    "TAPE",
    "WORN",
    "ChildTexts",
    "CorrectingTexts",
    "LengthTexts",
    "ObjectTexts",
    "PointingTexts",
    "TapeTexts",
    "WornTexts",
]


@dataclass(frozen=True, slots=True)
class PointingTexts:
    """The click editor."""

    which: str
    click: str
    take_back: str
    take_all_back: str
    type_instead: str


POINTING: Final[Mapping[Language, PointingTexts]] = {
    "en": PointingTexts(
        which="Point to",
        click="Click in the picture: {spot}.",
        take_back="Take this one back",
        take_all_back="Take all back",
        type_instead="Type the place instead",
    ),
    "es": PointingTexts(
        which="Señale",
        click="Pulse en la foto: {spot}.",
        take_back="Quitar este punto",
        take_all_back="Quitar todos",
        type_instead="Escribir el lugar",
    ),
}


@dataclass(frozen=True, slots=True)
class CorrectingTexts:
    """Joints, crotch and floor put right."""

    put_right: str
    crotch: str
    crotch_hint: str
    floor: str
    floor_hint: str
    joint_hint: str
    joints: Mapping[Landmark, str]


CORRECTING: Final[Mapping[Language, CorrectingTexts]] = {
    "en": CorrectingTexts(
        put_right="Put marks right",
        crotch="crotch",
        crotch_hint="Click where the legs part: the top of the gap, seam or crease between them."
        " Behind a long top it stays a guess, and counts as one.",
        floor="floor at the toes",
        floor_hint="Click where the tip of the toes or shoes meets the floor: the lowest point of a"
        " foot. If one foot is lower in the picture, click halfway between the two.",
        joint_hint="Click the middle of the joint, not the edge of the leg.",
        joints={
            "left_hip": "hip, the child’s left",
            "right_hip": "hip, the child’s right",
            "left_knee": "knee, the child’s left",
            "right_knee": "knee, the child’s right",
            "left_ankle": "ankle, the child’s left",
            "right_ankle": "ankle, the child’s right",
        },
    ),
    "es": CorrectingTexts(
        put_right="Corregir las marcas",
        crotch="entrepierna",
        crotch_hint="Pulse donde se separan las piernas: el punto más alto del hueco, la costura o el"
        " pliegue. Detrás de una prenda larga es una suposición, y cuenta como tal.",
        floor="suelo junto a los dedos",
        floor_hint="Pulse donde la punta del pie o del zapato toca el suelo: el punto más bajo de un"
        " pie. Si un pie está más abajo en la foto, pulse a medio camino entre los dos.",
        joint_hint="Pulse en el centro de la articulación, no en el borde de la pierna.",
        joints={
            "left_hip": "cadera izquierda del niño",
            "right_hip": "cadera derecha del niño",
            "left_knee": "rodilla izquierda del niño",
            "right_knee": "rodilla derecha del niño",
            "left_ankle": "tobillo izquierdo del niño",
            "right_ankle": "tobillo derecho del niño",
        },
    ),
}


@dataclass(frozen=True, slots=True)
class ObjectTexts:
    """What hangs or stands beside the child."""

    question: str
    kinds: Mapping[ReferenceKind, str]
    nothing: str
    placement: str
    placements: Mapping[Placement, str]
    by_hand: str
    by_hand_help: str
    mark_it: str
    corners: tuple[str, str, str, str]
    tyre_place: str
    ends: tuple[str, str]
    more: str
    door: str
    door_note: str
    length: str
    length_note: str
    tyre: str
    tyre_help: str
    tyre_example: str
    tyre_unread: str
    tyre_diameter: str
    ruler_ask: str
    ruler: str
    ruler_default: str
    ruler_help: str
    stature_note: str
    to_mark: str


OBJECT: Final[Mapping[Language, ObjectTexts]] = {
    "en": ObjectTexts(
        question="What is beside the child?",
        kinds={
            "sheet": "Our printed sheet",
            "letter": "Blank Letter paper",
            "a4": "Blank A4 paper",
            "wheel": "A bicycle wheel",
            "door": "A door",
            "length": "Another known length",
        },
        nothing="None of these",
        placement="Where is it?",
        placements={
            "wall": "On the wall at the child’s heels",
            "beside": "Beside the child, level with the legs",
        },
        by_hand="Mark it by hand",
        by_hand_help="The program looks for it by itself. Mark it if the wrong thing was found.",
        mark_it="Mark it in {name}",
        corners=(
            "top left corner",
            "top right corner",
            "bottom right corner",
            "bottom left corner",
        ),
        tyre_place="outer edge of the tyre, place {number}",
        ends=("one end", "the other end"),
        more="one more place",
        door="Height of the door",
        door_note="Measure the door leaf without the gap below. Left empty: 80 in (203 cm).",
        length="Length",
        length_note="Measured between the two ends that you will mark.",
        tyre="Tyre size, from its sidewall",
        tyre_help="Two numbers with a hyphen on the rubber: width and rim in millimetres.",
        tyre_example="for example 47-406",
        tyre_unread="This is not a tyre size. Look for the two numbers with the hyphen.",
        tyre_diameter="Outside diameter {length}",
        ruler_ask="Measure the ruler on the printed sheet",
        ruler="The ruler on your printed sheet measures (mm)",
        ruler_default="{ruler} if printed true to scale",
        ruler_help="Lay a tape along the printed line. Printers often shrink a page a little.",
        stature_note="Then the body height helps. Measure it without shoes.",
        to_mark="Mark it in the picture below.",
    ),
    "es": ObjectTexts(
        question="¿Qué hay junto al niño?",
        kinds={
            "sheet": "Nuestra hoja impresa",
            "letter": "Papel Carta en blanco",
            "a4": "Papel A4 en blanco",
            "wheel": "Una rueda de bicicleta",
            "door": "Una puerta",
            "length": "Otra longitud conocida",
        },
        nothing="Nada de esto",
        placement="¿Dónde está?",
        placements={
            "wall": "En la pared, a la altura de los talones",
            "beside": "Junto al niño, a la altura de las piernas",
        },
        by_hand="Marcarlo a mano",
        by_hand_help="El programa lo busca solo. Márquelo si ha encontrado otra cosa.",
        mark_it="Márquelo en {name}",
        corners=(
            "esquina superior izquierda",
            "esquina superior derecha",
            "esquina inferior derecha",
            "esquina inferior izquierda",
        ),
        tyre_place="borde exterior del neumático, punto {number}",
        ends=("un extremo", "el otro extremo"),
        more="un punto más",
        door="Altura de la puerta",
        door_note="Mida la hoja de la puerta sin el hueco de abajo. Vacío: 203 cm (80 in).",
        length="Longitud",
        length_note="Medida entre los dos extremos que va a marcar.",
        tyre="Medida del neumático, en su costado",
        tyre_help="Dos números con guion en la goma: anchura y llanta en milímetros.",
        tyre_example="por ejemplo 47-406",
        tyre_unread="Esto no es una medida de neumático. Busque los dos números con guion.",
        tyre_diameter="Diámetro exterior {length}",
        ruler_ask="Medir la regla de la hoja impresa",
        ruler="La regla de su hoja impresa mide (mm)",
        ruler_default="{ruler} si se imprimió a tamaño real",
        ruler_help="Ponga una cinta a lo largo de la línea. Las impresoras suelen reducir un poco.",
        stature_note="Entonces ayuda la estatura. Mídala sin zapatos.",
        to_mark="Márquelo en la foto de abajo.",
    ),
}


@dataclass(frozen=True, slots=True)
class WornTexts:
    """Feet, legs and heels in the picture."""

    feet: str
    barefoot: str
    shoes: str
    not_known: str
    soles: str
    soles_unknown: str
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
        soles="Their soles (mm)",
        soles_unknown="not measured",
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
        soles_unknown="sin medir",
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
    riding_soles_default: str
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
        riding_soles="Sole of the riding shoe (mm)",
        riding_soles_help="Thickness under the heel, measured with a ruler.",
        riding_soles_default="15 assumed",
        stretch="Accept a little less room, to grow into",
        stretch_help="Never a bar that touches.",
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
        riding_soles="Suela del zapato para montar (mm)",
        riding_soles_help="Grosor bajo el talón, medido con una regla.",
        riding_soles_default="se suponen 15",
        stretch="Aceptar un poco menos de espacio, para crecer",
        stretch_help="Nunca una barra que toque.",
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


TAPE: Final[Mapping[Language, TapeTexts]] = {
    "en": TapeTexts(
        title="Measure with a tape",
        how="Barefoot, back to the wall, a book pulled up firmly between the legs. Measure from the"
        " top of the book to the floor. Three times is best.",
        reading="Reading {number}",
        care="Measured",
        cares={"careful": "with care, as drawn", "hasty": "in a hurry, or in shoes"},
        show="Show the answer",
    ),
    "es": TapeTexts(
        title="Medir con una cinta",
        how="Descalzo, de espaldas a la pared, con un libro bien subido entre las piernas. Mida desde"
        " el borde superior del libro hasta el suelo. Mejor tres veces.",
        reading="Medida {number}",
        care="Medido",
        cares={"careful": "con cuidado, como en el dibujo", "hasty": "deprisa o con zapatos"},
        show="Ver la respuesta",
    ),
}


@dataclass(frozen=True, slots=True)
class LengthTexts:
    """Fields for a length."""

    example: str
    unread: str


LENGTHS: Final[Mapping[Language, LengthTexts]] = {
    "en": LengthTexts(
        example="for example {number}",
        unread="“{text}” is no length. Write for example 25.5 in or 64.8 cm.",
    ),
    "es": LengthTexts(
        example="por ejemplo {number}",
        unread="«{text}» no es una longitud. Escriba por ejemplo 64.8 cm o 25.5 in.",
    ),
}
