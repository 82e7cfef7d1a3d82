"""Texts of the page of photo against tape; its sentences stand in :mod:`pose_fit.pairs.pair_texts`."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["PAIRS_PAGE", "PairsPageTexts"]


@dataclass(frozen=True, slots=True)
class PairsPageTexts:
    """From top to bottom."""

    none: str
    second_look: str
    case: str
    numbers: str
    groups: str
    table: tuple[str, str, str, str, str]
    group_bias: str
    one: str
    spread: str
    covered: str
    note: str
    download: str


PAIRS_PAGE: Final[Mapping[Language, PairsPageTexts]] = {
    "en": PairsPageTexts(
        none="No child was measured by photo and by tape yet. Open a case while its child stands in"
        " the shop and choose **Tape in the shop**.",
        second_look="Look at these again",
        case="Case {number}",
        numbers="How they differ",
        groups="By object, legwear and tape",
        table=("Group", "Children", "Photo minus tape", "Spread", "Within the interval"),
        group_bias="{bias} mm ({low} to {high})",
        one="not known of one",
        spread="{sd} mm ({low} to {high})",
        covered="{covered} of {count} ({low} to {high} %)",
        note="After ± and in brackets: the range in which the true figure lies 19 times in 20. Within"
        " the interval: of 100 children 95 should be.",
        download="Download the pairs (CSV)",
    ),
    "es": PairsPageTexts(
        none="Todavía no se ha medido a ningún niño con foto y con cinta. Abra un caso mientras su"
        " niño está en la tienda y elija **Cinta en la tienda**.",
        second_look="Mire estos otra vez",
        case="Caso {number}",
        numbers="En qué difieren",
        groups="Por objeto, ropa y cinta",
        table=("Grupo", "Niños", "Foto menos cinta", "Variación", "Dentro del intervalo"),
        group_bias="{bias} mm (de {low} a {high})",
        one="de uno no se sabe",
        spread="{sd} mm (de {low} a {high})",
        covered="{covered} de {count} (del {low} al {high} %)",
        note="Tras ± y entre paréntesis: dónde está el valor verdadero 19 de cada 20 veces. Dentro"
        " del intervalo deberían estar 95 de cada 100 niños.",
        download="Descargar los pares (CSV)",
    ),
}
