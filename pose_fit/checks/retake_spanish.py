"""Advice for a surer value in Spanish, by the library's own English sentence."""

from collections.abc import Mapping
from typing import Final

__all__ = ["ADVICE_ES", "advice_es"]

_WITH_TAPE_OR_PHOTO: Final = "con una cinta y un libro, o envíe una foto."

#: A test holds these to all the sentences that the library gives.
ADVICE_ES: Final[Mapping[str, str]] = {
    "Come closer or use a larger reference, so that it fills more of the picture.": "Acérquese o use un"
    " objeto de medida más grande, para que ocupe más de la foto.",
    "Send the original picture file: messengers strip the lens data from it.": "Envíe el archivo original"
    " de la foto: las mensajerías le quitan los datos del objetivo.",
    "Keep the child in the middle of the picture and do not use the widest lens.": "Ponga al niño en el"
    " centro de la foto y no use el gran angular.",
    "Measure the reference with a tape (on the printed sheet, its ruler).": "Mida con una cinta el objeto"
    " de medida (en la hoja impresa, su regla).",
    "Check the object’s size (on a wheel the code on the tyre). The child’s age or height tells it"
    " too.": "Compruebe el tamaño del objeto (en una rueda, el código del neumático). La edad o la"
    " estatura del niño también lo dice.",
    "Use the printed sheet, whose shape is known exactly.": "Use la hoja impresa, cuya forma se conoce"
    " con exactitud.",
    "Hold the phone level at hip height, and hang the reference beside the knees.": "Sostenga el teléfono"
    " recto a la altura de las caderas y cuelgue el objeto de medida junto a las rodillas.",
    "Have both heels touch the wall that the reference hangs on.": "Que los dos talones toquen la pared de"
    " la que cuelga el objeto de medida.",
    "Have the child stand straight, heels to the wall, facing the camera.": "Que el niño esté derecho, con"
    " los talones en la pared, mirando a la cámara.",
    "Have the child stand with both heels flat on the floor.": "Que el niño apoye los dos talones en el"
    " suelo.",
    "Take a second photo and give both: small errors even out.": "Haga otra foto y dé"
    " las dos: entre ambas el error es menor.",
    "Let the child wear close-fitting legwear in a colour unlike the wall.": "Que el niño lleve ropa"
    " ajustada en las piernas, de un color distinto del de la pared.",
    "Measure with a tape too: ankles differ between children.": "Mida también con una cinta: los tobillos"
    " no son iguales en todos los niños.",
    "Put the feet a hand apart in close-fitting legwear, so that the crotch shows.": "Separe los pies un"
    " palmo, con ropa ajustada, para que se vea la entrepierna.",
    "Measure barefoot, or give the thickness of the soles.": "Mida al niño descalzo, o diga el grosor de"
    " las suelas.",
    "Leave a hand of floor visible below the feet, and the wall base beside them.": "Deje ver un palmo de"
    " suelo debajo de los pies, y el pie de la pared a su lado.",
    "Have both heels touch the wall, toes forward.": "Que los dos talones toquen la pared, con los pies"
    " hacia delante.",
    "Hold the book’s spine level, its label a little before the thighs.": "Sostenga el lomo del libro"
    " nivelado, con la etiqueta un poco delante de los muslos.",
    "Use more light, and legwear in a colour unlike the wall.": "Use más luz, y ropa de un color distinto"
    " del de la pared.",
    "Point at the crotch again, with the picture enlarged.": "Señale otra vez la entrepierna, con la foto"
    " ampliada.",
    "Point at the tip of the toes again, with the picture enlarged.": "Señale otra vez la punta de los"
    " pies, con la foto ampliada.",
    "Have the child wear close-fitting legwear: loose cloth hides where the legs part.": "Que el niño"
    " lleve ropa ajustada: la tela suelta tapa dónde se separan las piernas.",
    "Point at where the legs part and at where the toes meet the floor.": "Señale dónde se separan las"
    " piernas y dónde tocan los pies el suelo.",
    "Measure the inseam with a tape and a book, or send a photo.": f"Mida la entrepierna {_WITH_TAPE_OR_PHOTO}",
    "Measure the child with a tape and a book, or send a photo.": f"Mida al niño {_WITH_TAPE_OR_PHOTO}",
    "Give the child's standing height.": "Diga la estatura del niño de pie.",
    "Read the tape three times, and take the book out in between.": "Lea la cinta tres veces, y saque el libro cada"
    " vez.",
}


def advice_es(advice: str) -> str | None:
    """The sentence in Spanish; None of one that the library does not give, such as an older one."""
    return ADVICE_ES.get(advice)
