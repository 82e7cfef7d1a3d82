"""The words for a bicycle, and what to do about one that is not recommended."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.fit.feet import Feet
from pose_fit.fit.shown import Shown

__all__ = ["FIT", "FitTexts"]


@dataclass(frozen=True, slots=True)
class FitTexts:
    """About bicycles."""

    shown: Mapping[Shown, str]
    meanings: Mapping[Shown, str]
    feet: Mapping[Feet, str]
    no_top_tube: str
    above_bar: str
    below_bar: str
    months: str
    one_month: str
    months_soon: str
    months_long: str
    ready_in: str
    ready_in_one: str
    ready_never: str
    outgrown: str
    perhaps_outgrown: str
    unknown: str
    out_of_stock: str
    cautions: tuple[str, ...]
    drawing_alt: str


FIT: Final[Mapping[Language, FitTexts]] = {
    "en": FitTexts(
        shown={
            "touching": "too big: the top tube touches",
            "too big": "too big",
            "tight": "fits, but tight",
            "good": "fits",
            "roomy": "fits, with room to spare",
            "outgrown": "too small",
            "measure this bicycle": "measure this bicycle",
            "measure the child again": "measure the child again",
            "try with an adult holding it": "try with an adult holding it",
        },
        meanings={
            "touching": "not to be ridden.",
            "too big": "choose a smaller one, or wait.",
            "tight": "clear of the top tube, by less than usual.",
            "good": "the wanted room above the top tube; saddle and handlebar fit.",
            "roomy": "more room than needed; saddle and handlebar still fit.",
            "outgrown": "the saddle is too low, or the knees meet the handlebar.",
            "measure this bicycle": "it may fit; a tape in the shop tells.",
            "measure the child again": "it may fit; a surer inseam tells.",
            "try with an adult holding it": "it may fit; only trying tells.",
        },
        feet={
            "both feet flat": "seated, both feet flat on the ground",
            "tiptoes": "seated, the toes reach the ground",
            "perhaps tiptoes": "seated, the toes may just reach the ground",
            "not at the lowest saddle": "seated, the feet do not reach the ground",
        },
        no_top_tube="no top tube to clear",
        above_bar="{length} above the top tube",
        below_bar="top tube {length} too high",
        months="lasts about {months} months",
        one_month="lasts about one month",
        months_soon="soon outgrown",
        months_long="lasts three years or more",
        ready_in="right in about {months} months",
        ready_in_one="right in about one month",
        ready_never="not within three years",
        outgrown="outgrown",
        perhaps_outgrown="perhaps outgrown",
        unknown="not known",
        out_of_stock="not in stock",
        cautions=(
            "This says which bicycles to try. Let the child stand over it in riding shoes, both feet"
            " flat on the ground, with an adult holding it.",
            "A qualified fitter decides, and checks brakes, steering and bolts.",
            "A helmet that fits, on every ride. Ask what the law says where you live.",
        ),
        drawing_alt="This child standing over {name}, to scale: {word}. Inseam {inseam},"
        " standover {standover}.",
    ),
    "es": FitTexts(
        shown={
            "touching": "demasiado grande: el tubo superior toca",
            "too big": "demasiado grande",
            "tight": "le queda bien, pero justa",
            "good": "le queda bien",
            "roomy": "le queda bien, con espacio de sobra",
            "outgrown": "demasiado pequeña",
            "measure this bicycle": "mida esta bicicleta",
            "measure the child again": "mida otra vez al niño",
            "try with an adult holding it": "pruébela con un adulto que la sujete",
        },
        meanings={
            "touching": "no se puede montar.",
            "too big": "elija una más pequeña, o espere.",
            "tight": "no toca el tubo superior, pero por menos de lo habitual.",
            "good": "el espacio deseado sobre el tubo superior; sillín y manillar encajan.",
            "roomy": "más espacio del necesario; sillín y manillar aún encajan.",
            "outgrown": "el sillín es bajo, o las rodillas tocan el manillar.",
            "measure this bicycle": "puede irle bien; una cinta en la tienda lo dice.",
            "measure the child again": "puede irle bien; una medida más segura lo dice.",
            "try with an adult holding it": "puede irle bien; solo probarla lo dice.",
        },
        feet={
            "both feet flat": "en el sillín, los dos pies planos en el suelo",
            "tiptoes": "en el sillín, las puntas de los pies llegan al suelo",
            "perhaps tiptoes": "en el sillín, las puntas de los pies quizá llegan justo",
            "not at the lowest saddle": "en el sillín, los pies no llegan al suelo",
        },
        no_top_tube="sin tubo superior que salvar",
        above_bar="{length} sobre el tubo superior",
        below_bar="al tubo superior le sobran {length}",
        months="dura unos {months} meses",
        one_month="dura alrededor de un mes",
        months_soon="pronto será pequeña",
        months_long="dura tres años o más",
        ready_in="le irá en unos {months} meses",
        ready_in_one="le irá en un mes, más o menos",
        ready_never="no antes de tres años",
        outgrown="ya es pequeña",
        perhaps_outgrown="quizá ya es pequeña",
        unknown="no se sabe",
        out_of_stock="agotada",
        cautions=(
            "Esto dice qué bicicletas probar. El niño debe ponerse sobre ella con sus zapatos y los"
            " dos pies planos en el suelo, con un adulto que la sujete.",
            "Decide un profesional, que revisa frenos, dirección y tornillos.",
            "Un casco de su talla, siempre. Pregunte qué dice la ley donde vive.",
        ),
        drawing_alt="Este niño de pie sobre {name}, a escala: {word}. Entrepierna {inseam}, altura"
        " del tubo {standover}.",
    ),
}
