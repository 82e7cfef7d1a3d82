"""The words for a bicycle, and what to do about one that is not recommended."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.fit.settle import Action
from pose_fit.fit.verdicts import Verdict

__all__ = ["FIT", "FitTexts"]


@dataclass(frozen=True, slots=True)
class FitTexts:
    """About bicycles."""

    words: Mapping[Verdict, str]
    tight_to_grow: str
    too_big: str
    too_small: str
    to_do: Mapping[Action, str]
    meanings: Mapping[Verdict, str]
    above_bar: str
    below_bar: str
    step_through_reaches: str
    step_through_short: str
    months: str
    months_soon: str
    months_long: str
    ready_in: str
    ready_never: str
    outgrown: str
    unknown: str
    out_of_stock: str
    cautions: tuple[str, ...]
    drawing_alt: str
    pedalling_alt: str
    not_drawn: str


FIT: Final[Mapping[Language, FitTexts]] = {
    "en": FitTexts(
        words={
            "contact": "too big",
            "tight": "a little too big",
            "good": "fits",
            "roomy": "fits, with room to spare",
            "cramped": "too small",
        },
        tight_to_grow="tight, to grow into",
        too_big="too big",
        too_small="too small",
        to_do={
            "measure_bicycle": "measure this bicycle first",
            "second_photo": "take another picture first",
            "tape": "measure with a tape first",
            "repeat_tape": "measure with the tape again",
            "try_in_person": "try it with an adult holding it",
        },
        meanings={
            "contact": "the bar touches. Not to be ridden.",
            "tight": "off the bar, but by less than an inch (2.5 cm).",
            "good": "the wanted room above the bar, and saddle and handlebar fit.",
            "roomy": "more room than needed; saddle and handlebar still fit.",
            "cramped": "outgrown; the saddle is too low or the knees meet the handlebar.",
        },
        above_bar="{length} above the bar",
        below_bar="bar {length} too high",
        step_through_reaches="no bar; reaches the ground",
        step_through_short="no bar; does not reach the ground",
        months="lasts about {months} months",
        months_soon="soon outgrown",
        months_long="lasts three years or more",
        ready_in="right in about {months} months",
        ready_never="not within three years",
        outgrown="outgrown",
        unknown="not known",
        out_of_stock="not in stock",
        cautions=(
            "This says which bicycles to try. Let the child stand over it in riding shoes, with an"
            " adult holding it.",
            "A qualified fitter decides, and checks brakes, steering and bolts.",
            "A helmet that fits, on every ride. Ask what the law says where you live.",
        ),
        drawing_alt="This child standing over {name}, to scale: {word}. Inseam {inseam},"
        " standover {standover}.",
        pedalling_alt="This child pedalling {name}, to scale. Saddle at {saddle}, knee to grips"
        " {knee}.",
        not_drawn="For a drawing more must be known of this bicycle.",
    ),
    "es": FitTexts(
        words={
            "contact": "demasiado grande",
            "tight": "un poco grande",
            "good": "le queda bien",
            "roomy": "le queda bien, con espacio de sobra",
            "cramped": "demasiado pequeña",
        },
        tight_to_grow="justa, para crecer",
        too_big="demasiado grande",
        too_small="demasiado pequeña",
        to_do={
            "measure_bicycle": "mida antes esta bicicleta",
            "second_photo": "haga antes otra foto",
            "tape": "mida antes con una cinta",
            "repeat_tape": "mida otra vez con la cinta",
            "try_in_person": "pruébela con un adulto que la sujete",
        },
        meanings={
            "contact": "la barra toca. No se puede montar.",
            "tight": "no toca la barra, pero por menos de 2,5 cm (1 in).",
            "good": "el espacio deseado sobre la barra; sillín y manillar encajan.",
            "roomy": "más espacio del necesario; sillín y manillar aún encajan.",
            "cramped": "se ha quedado pequeña; el sillín es bajo o las rodillas tocan el manillar.",
        },
        above_bar="{length} sobre la barra",
        below_bar="la barra queda {length} alta",
        step_through_reaches="sin barra; llega al suelo",
        step_through_short="sin barra; no llega al suelo",
        months="dura unos {months} meses",
        months_soon="pronto será pequeña",
        months_long="dura tres años o más",
        ready_in="le irá en unos {months} meses",
        ready_never="no antes de tres años",
        outgrown="ya es pequeña",
        unknown="no se sabe",
        out_of_stock="agotada",
        cautions=(
            "Esto dice qué bicicletas probar. El niño debe ponerse sobre ella con sus zapatos, con un"
            " adulto que la sujete.",
            "Decide un profesional, que revisa frenos, dirección y tornillos.",
            "Un casco de su talla, siempre. Pregunte qué dice la ley donde vive.",
        ),
        drawing_alt="Este niño de pie sobre {name}, a escala: {word}. Entrepierna {inseam}, altura"
        " del tubo {standover}.",
        pedalling_alt="Este niño pedaleando en {name}, a escala. Sillín a {saddle}, rodilla a"
        " {knee} de los puños.",
        not_drawn="Para un dibujo hay que saber más de esta bicicleta.",
    ),
}
