"""The words that stand in drawings and on marked pictures, in each language."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.fit.shown import Shown
from pose_fit.fit.words import HEADLINES

__all__ = ["DRAWING_TEXTS", "ENGLISH", "DrawingTexts"]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingTexts:
    """Words with places for ``{length}`` and the like."""

    # A child on a bicycle.
    headlines: Mapping[Shown, str]
    standing_title: str
    pushing_title: str
    to_scale: str
    inseam_and_sole: str
    standover_height: str
    step_through_height: str
    lowest_saddle: str
    above_top_tube: str
    top_tube_too_high: str
    no_top_tube: str
    no_pedals: str
    saddle_at: str
    # Growth and intervals.
    months_from_now: str
    inseam_expected: str
    measured_before: str
    outgrown_at: str
    interval_legend: str
    # A marked picture.
    inseam: str
    crotch: str
    floor: str
    legs_part: str
    joints: str
    known_object: str
    person: str
    not_measured: str
    no_object: str


ENGLISH: Final = DrawingTexts(
    headlines=HEADLINES,
    standing_title="A child of inseam {length} standing over {name}",
    pushing_title="A child of inseam {length} on {name}",
    to_scale="Side view to scale",
    inseam_and_sole="inseam and sole {length}",
    standover_height="standover height {length}",
    step_through_height="step-through height {length}",
    lowest_saddle="lowest saddle {length}",
    above_top_tube="{length} above the top tube",
    top_tube_too_high="Top tube {length} too high",
    no_top_tube="No top tube to clear: judged by its saddle",
    no_pedals="No pedals: both feet push on the ground",
    saddle_at="saddle at {length}, of {low} to {high}",
    months_from_now="months from now",
    inseam_expected="inseam expected; shaded: 19 times in 20",
    measured_before="measured; line: 19 times in 20",
    outgrown_at="{name}: outgrown at {length}",
    interval_legend="sign: best estimate; bar: where it is 19 times in 20",
    inseam="Inseam {length}",
    crotch="crotch; 95 %: {low} to {high}",
    floor="floor under the heels",
    legs_part="where the legs part",
    joints="hips, knees and ankles",
    known_object="object of known size",
    person="the person",
    not_measured="Not measured. Found so far:",
    no_object="no object of known size",
)

_SPANISH: Final = DrawingTexts(
    headlines={
        "touching": "Toca: no se debe montar",
        "too big": "Demasiado grande por ahora",
        "tight": "Justa: para crecer con ella",
        "good": "Bien: le queda ahora",
        "roomy": "Holgada: le queda, con espacio de sobra",
        "outgrown": "Pequeña: ya no le queda",
        "measure this bicycle": "Primero, medir esta bicicleta",
        "measure the child again": "Primero, volver a medir al niño",
        "try with an adult holding it": "Probar con un adulto que la sujete",
    },
    standing_title="Un niño con entrepierna de {length} de pie sobre {name}",
    pushing_title="Un niño con entrepierna de {length} en {name}",
    to_scale="Vista lateral a escala",
    inseam_and_sole="entrepierna y suela {length}",
    standover_height="altura del cuadro {length}",
    step_through_height="altura de paso {length}",
    lowest_saddle="sillín más bajo {length}",
    above_top_tube="{length} sobre el tubo superior",
    top_tube_too_high="Tubo superior {length} demasiado alto",
    no_top_tube="Sin tubo superior: decide el sillín",
    no_pedals="Sin pedales: los dos pies empujan en el suelo",
    saddle_at="sillín a {length}, entre {low} y {high}",
    months_from_now="meses desde hoy",
    inseam_expected="entrepierna esperada; sombra: 19 de cada 20 veces",
    measured_before="medido; raya: 19 de cada 20 veces",
    outgrown_at="{name}: pequeña desde {length}",
    interval_legend="signo: mejor estimación; barra: 19 de cada 20 veces",
    inseam="Entrepierna {length}",
    crotch="entrepierna; 95 %: {low} a {high}",
    floor="suelo bajo los talones",
    legs_part="donde se separan las piernas",
    joints="caderas, rodillas y tobillos",
    known_object="objeto de tamaño conocido",
    person="la persona",
    not_measured="Sin medir. Encontrado hasta ahora:",
    no_object="ningún objeto de tamaño conocido",
)

DRAWING_TEXTS: Final[Mapping[Literal["en", "es"], DrawingTexts]] = {"en": ENGLISH, "es": _SPANISH}
