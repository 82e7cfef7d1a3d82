"""The engine's sentences on a card in Spanish, from the same facts and by the same codes.

English is the engine's own (:mod:`pose_fit.fit.words`, :mod:`pose_fit.fit.choice_words`); which
sentences stand on a card is decided
there for both languages.
"""

from collections.abc import Mapping
from typing import Final

from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.fit.choice_words import ChoiceTexts
from pose_fit.fit.feet import Feet
from pose_fit.fit.judge import Fit
from pose_fit.fit.settle import Action, settle_by
from pose_fit.fit.shown import Shown
from pose_fit.metrology.units import Unit, both_units
from pose_fit.notice_codes import NoticeCode

__all__ = ["CHOICE_IN_SPANISH", "reason_es", "settle_es", "to_do_es"]

_FEET: Final[Mapping[Feet, str]] = {
    "both feet flat": "Los dos pies llegan planos al suelo desde el sillín más bajo.",
    "tiptoes": "El niño llega al suelo de puntillas desde el sillín más bajo.",
    "perhaps tiptoes": "Compruebe que los dedos llegan al suelo desde el sillín más bajo.",
    "not at the lowest saddle": "El niño no llega al suelo desde el sillín más bajo.",
}
_FEET_UNKNOWN: Final = "No se sabe si llega al suelo: falta la altura del sillín más bajo."
_TO_DO: Final[Mapping[Shown, str]] = {
    "touching": "elija una bicicleta más pequeña",
    "too big": "elija una más pequeña, o espere",
    "tight": "merece probarla, con un adulto que la sujete",
    "good": "merece probarla, con un adulto que la sujete",
    "roomy": "merece probarla, con un adulto que la sujete",
    "outgrown": "elija una bicicleta más grande",
    "measure this bicycle": "mida antes esta bicicleta",
    "measure the child again": "mida otra vez al niño",
    "try with an adult holding it": "que el niño {how}, con un adulto que la sujete",
}
_SETTLING: Final[Mapping[Action, str]] = {
    "measure_bicycle": "mida esta bicicleta en la tienda con una cinta",
    "second_photo": "haga otra foto",
    "tape": "mida la entrepierna con una cinta contra la pared, dos veces",
    "repeat_tape": "mida la entrepierna con la cinta dos veces más",
    "try_in_person": "que el niño pruebe esta bicicleta con un adulto que la sujete",
}
_REASONS: Final[Mapping[NoticeCode, str]] = {
    "clearance": "Con zapatos, el niño tiene {clearance} sobre el tubo superior.",
    "no_top_tube": "{without}Decide el sillín.",
    "lowest_saddle": "{without}{feet}",
    "cramped_nothing": "La bicicleta {certain}es pequeña. Mida sus alturas de sillín para saberlo.",
    "cramped_saddle": "El sillín en lo más alto {certain}queda bajo para estas piernas.",
    "cramped_knees": "Las rodillas {certain}quedan demasiado cerca del manillar en cada vuelta.",
    "cramped_lift": "Con tanto espacio, la bicicleta {certain}es pequeña. Mida sus alturas de sillín"
    " para saberlo.",
    "room_to_grow": "Sirve hasta que las piernas crezcan unos {room} más.",
    "lift_check": "Para comprobarlo, el niño se pone sobre ella con los dos pies planos y usted la"
    " levanta hasta que toque el tubo superior: los dos neumáticos suben unos {clearance}.",
    "not_judged": "No se conocen sus alturas de sillín. Hasta entonces no se puede recomendar.",
    "not_likely_enough": "Falta certeza de que le quede bien, o pronto sería pequeña.",
    "contact_risk": "Es demasiado probable que toque el tubo superior, o que no llegue al suelo.",
}
_TOO_HIGH: Final = "El tubo superior queda {clearance} más alto que las piernas con zapatos."


def reason_es(fit: Fit, code: NoticeCode, *, unit: Unit = "in") -> str:
    """The reason of this code for a parent.

    Raises
    ------
    KeyError
        The code is no reason for a parent.
    """
    text = _REASONS[code]
    if code == "clearance" and fit.clearance_mm <= 0:
        text = _TOO_HIGH
    return text.format(
        clearance=both_units(abs(fit.clearance_mm), unit),
        room=both_units(fit.room_to_grow_mm, unit),
        certain=_certain(fit),
        without=_without(fit),
        feet=feet_es(fit),
    )


def feet_es(fit: Fit) -> str:
    """Whether the child reaches the ground."""
    return _FEET_UNKNOWN if fit.feet is None else _FEET[fit.feet]


def to_do_es(fit: Fit) -> str:
    """What to do about the bicycle, a phrase without a full stop."""
    how = "se ponga sobre ella con los dos pies planos"
    return _TO_DO[fit.shown].format(how=how if fit.bicycle.has_top_tube else "se siente en ella")


def settle_es(fit: Fit) -> str:
    """What would settle this bicycle if it is unsure."""
    return f"Para estar seguro, {_SETTLING[settle_by(fit).action]}."


def _word(fit: Fit) -> str:
    headline = DRAWING_TEXTS["es"].headlines[fit.shown]
    return headline[:1].lower() + headline[1:]


def _certain(fit: Fit) -> str:
    if fit.probabilities["cramped"] >= fit.policy.sure_from:
        return ""
    return "probablemente " if fit.verdict == "cramped" else "quizá "


def _without(fit: Fit) -> str:
    if fit.bicycle.has_top_tube:
        return ""
    return "No tiene tubo superior. " if fit.bicycle.pedals else "No tiene pedales. "


CHOICE_IN_SPANISH: Final = ChoiceTexts(
    best="{name}: {word}. {feet} Sirve hasta que las piernas crezcan unos {room} más.",
    runner_up="La segunda: {name} ({word}).",
    runner_up_larger="La segunda, y la talla siguiente: {name} ({word}).",
    may_fit="{name} puede irle bien: {to_do}.",
    not_in_stock="{name} le iría bien, pero no está en la tienda.",
    none_fits="Ninguna de estas le queda bien con certeza.",
    no_other_fits="Ninguna de las otras le queda bien con certeza.",
    look_for="Busque una altura del tubo superior entre {low} y {high}.",
    next_size="Una talla más: {name}, desde una entrepierna de {inseam}.",
    next_size_fits="Una talla más: {name}, que ya le queda bien ({word}).",
    first_later="La primera que le quedará bien más adelante: {name}, desde una entrepierna de {inseam}.",
    word=_word,
    feet=feet_es,
    to_do=to_do_es,
)
