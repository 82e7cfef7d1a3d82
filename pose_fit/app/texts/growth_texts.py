"""Texts of the growth chart."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["GROWTH", "GrowthTexts"]


@dataclass(frozen=True, slots=True)
class GrowthTexts:
    """How long bicycles last."""

    choose: str
    chart_alt: str
    unknown: str
    wider: str


GROWTH: Final[Mapping[Language, GrowthTexts]] = {
    "en": GrowthTexts(
        choose="Bicycles to look ahead for",
        chart_alt="Growth chart. Inseam {now} now; in {months} months {then}, between {low} and"
        " {high}.",
        unknown="For these legs the growth tables say nothing.",
        wider="With the child’s age and sex the forecast would be surer.",
    ),
    "es": GrowthTexts(
        choose="Bicicletas para mirar adelante",
        chart_alt="Gráfico de crecimiento. Entrepierna {now} hoy; en {months} meses {then}, entre"
        " {low} y {high}.",
        unknown="Para estas piernas las tablas de crecimiento no dicen nada.",
        wider="Con la edad y el sexo del niño la previsión sería más segura.",
    ),
}
