"""Texts of the object beside the child, and of everything that is pointed at in a picture."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.body.body import Landmark
from pose_fit.reference.reference import Placement, ReferenceKind

__all__ = [
    "CORRECTING",
    "OBJECT",
    "POINTING",
    "CorrectingTexts",
    "ObjectTexts",
    "PointingTexts",
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
    not_a_wheel: str
    placement: str
    placements: Mapping[Placement, str]
    by_hand: str
    by_hand_help: str
    mark_it: str
    corners: tuple[str, str, str, str]
    tyre_place: str
    ends: tuple[str, str]
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
        not_a_wheel="It is something else",
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
        not_a_wheel="Es otra cosa",
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
    ),
}
