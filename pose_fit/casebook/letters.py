"""The text that asks a family for another photo, ready to send, in the family's language."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.casebook.case import Case, FamilyLanguage
from pose_fit.checks.retake import POINTING_ADVICE
from pose_fit.checks.retake_spanish import advice_es
from pose_fit.inseam.inseam import Inseam

__all__ = ["LETTERS", "LetterTexts", "photo_request"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterTexts:
    """From greeting to thanks."""

    hello: str
    surer: str
    not_measured: str
    helps: str
    how_title: str
    how: tuple[str, ...]
    tape: str
    code: str


LETTERS: Final[Mapping[FamilyLanguage, LetterTexts]] = {
    "en": LetterTexts(
        hello="Hello,",
        surer="The photo you sent gives a first reading. A better one would make us surer.",
        not_measured="We could not measure the photo you sent.",
        helps="What would help most:",
        how_title="How to take it:",
        how=(
            "Barefoot or in thin socks, in close-fitting legwear, facing the camera.",
            "Back against the wall, both heels touching it, feet a hand apart, legs straight.",
            "The printed sheet or the other object of known size flat on the same wall, beside the"
            " knees.",
            "Phone level at the height of the child’s hips, 2 to 3 m (7 to 10 ft) away, in good"
            " light.",
            "Head to feet in the picture. Please send the original file, not one from a messenger.",
        ),
        tape="No luck with a photo? A tape is as good: the child stands barefoot against a wall, a"
        " book between the legs pulled up firmly; measure from the floor to the top of the book,"
        " twice.",
        code="Please quote the code {code} when you send it. Thank you!",
    ),
    "es": LetterTexts(
        hello="Hola:",
        surer="La foto que envió da una primera medida. Con una mejor estaríamos más seguros.",
        not_measured="No hemos podido medir la foto que envió.",
        helps="Lo que más ayudaría:",
        how_title="Cómo hacerla:",
        how=(
            "Descalzo o con calcetines finos, con ropa ajustada en las piernas, de frente.",
            "De espaldas a la pared, los dos talones tocándola, pies separados un palmo, piernas"
            " rectas.",
            "La hoja impresa o el otro objeto de tamaño conocido, liso en la misma pared, junto a las"
            " rodillas.",
            "El teléfono recto a la altura de las caderas del niño, a 2 o 3 m, con buena luz.",
            "Que se vea de la cabeza a los pies. Envíe el archivo original, no el de una mensajería.",
        ),
        tape="¿No sale la foto? Una cinta vale igual: el niño descalzo contra la pared, con un libro"
        " entre las piernas apretado hacia arriba; mida del suelo al borde de arriba del libro, dos"
        " veces.",
        code="Al enviarla, diga el código {code}. ¡Gracias!",
    ),
}


def photo_request(case: Case) -> str:
    """What to change for this case, how to take the photo, the tape instead, and the reply code.

    Why a photo could not be measured is English, and left out of a letter in another language.
    """
    say, estimate = LETTERS[case.content.language], case.content.estimate
    speaks_english = case.content.language == "en"
    if isinstance(estimate, Inseam):
        why, advice = say.surer, estimate.retake
    else:
        why, advice = say.not_measured, estimate.remedies
        if speaks_english:
            why = f"{why} {estimate}"
    # The family is asked for a picture, not to point at something in this one.
    advice = tuple(line for line in advice if line not in POINTING_ADVICE)
    if not speaks_english:
        advice = tuple(said for line in advice if (said := advice_es(line)) is not None)
    parts = [say.hello, why]
    if advice:
        parts.append(f"{say.helps}\n{_listed(advice)}")
    parts.append(f"{say.how_title}\n{_listed(say.how)}")
    parts += [say.tape, say.code.format(code=case.reply_code)]
    return "\n\n".join(parts)


def _listed(lines: tuple[str, ...]) -> str:
    return "\n".join(f"- {line}" for line in lines)
