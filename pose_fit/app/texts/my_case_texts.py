"""Texts of the family's own page of its case."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["MY_CASE", "MyCaseTexts"]


@dataclass(frozen=True, slots=True)
class MyCaseTexts:
    """The page, from top to bottom."""

    title: str
    code: str
    code_example: str
    code_help: str
    code_note: str
    just_changed: str
    card: str
    waiting: str
    asked: str
    answered: str
    shop_says: str
    another_title: str
    another_note: str
    another: str
    growth_title: str
    growth_code: str
    part: str
    parted: str
    growth_note: str
    child_code: str
    join: str
    no_such_child: str
    joined: str
    kept_title: str
    kept_numbers: str
    kept_no_picture: str
    kept_some: str
    kept_one: str
    kept_all: str
    kept_tape: str
    delete_pictures: str
    pictures_deleted: str
    sure: str
    delete: str
    deleted: str


MY_CASE: Final[Mapping[Language, MyCaseTexts]] = {
    "en": MyCaseTexts(
        title="My case",
        code="Reply code",
        code_example="for example AB12-CD34",
        code_help="You got it when you sent your measurement to the shop.",
        code_note="With the code you see the shop’s answer, and you can delete what you sent.",
        just_changed="The shop has just changed your case. This is how it stands now.",
        card="Fit card",
        waiting="**Waiting.** The shop has had it since {day} and has not answered yet.",
        asked="**The shop asks for another picture.**",
        answered="**Answered** on {day}. This is the inseam the shop stands by.",
        shop_says="The shop says: {words}",
        another_title="Another picture",
        another_note="It joins this case. The earlier pictures stay until you delete them.",
        another="Measure and send another picture",
        growth_title="This child’s growth",
        growth_code="This child’s code is **{code}**. Keep it: with it, later cases of the same child"
        " join this one, and the child’s own growth makes the forecast surer.",
        part="Take this case out again",
        parted="This case stands alone again.",
        growth_note="If you agree, the shop keeps this child’s cases together under a code of their"
        " own, without a name, and sees how the legs grow.",
        child_code="This child’s code, if there is one already",
        join="Keep this child’s cases together",
        no_such_child="No child’s case has this code. Check its letters and digits.",
        joined="This child’s cases are kept together now.",
        kept_title="What the shop keeps",
        kept_numbers="your child’s age, sex and height where you gave them, and the measurements",
        kept_no_picture="no picture, only numbers",
        kept_some="{pictures} of {photos} pictures, faces hidden; of the others only numbers",
        kept_one="the picture, face hidden",
        kept_all="{photos} pictures, faces hidden",
        kept_tape="what the tape said in the shop",
        delete_pictures="Delete the pictures, keep the numbers",
        pictures_deleted="The pictures are deleted.",
        sure="Delete everything, for good",
        delete="Delete my case",
        deleted="Your case is deleted.",
    ),
    "es": MyCaseTexts(
        title="Mi caso",
        code="Código de respuesta",
        code_example="por ejemplo AB12-CD34",
        code_help="Lo recibió al enviar su medida a la tienda.",
        code_note="Con el código ve la respuesta de la tienda y puede borrar lo que envió.",
        just_changed="La tienda acaba de cambiar su caso. Así está ahora.",
        card="Ficha de la bicicleta",
        waiting="**En espera.** La tienda lo tiene desde el {day} y aún no ha respondido.",
        asked="**La tienda pide otra foto.**",
        answered="**Respondido** el {day}. Esta es la entrepierna que la tienda da por buena.",
        shop_says="La tienda dice: {words}",
        another_title="Otra foto",
        another_note="Se añade a este caso. Las fotos anteriores quedan hasta que usted las borre.",
        another="Medir y enviar otra foto",
        growth_title="Cómo crece este niño",
        growth_code="El código de este niño es **{code}**. Guárdelo: con él, otros casos del mismo niño"
        " se unen a este, y su propio crecimiento hace más seguro el pronóstico.",
        part="Separar otra vez este caso",
        parted="Este caso vuelve a estar solo.",
        growth_note="Si está de acuerdo, la tienda guarda juntos los casos de este niño con un código"
        " propio, sin nombre, y ve cómo crecen sus piernas.",
        child_code="El código de este niño, si ya lo tiene",
        join="Guardar juntos los casos de este niño",
        no_such_child="Ningún caso de un niño tiene este código. Revise las letras y los números.",
        joined="Los casos de este niño ya se guardan juntos.",
        kept_title="Qué guarda la tienda",
        kept_numbers="la edad, el sexo y la estatura de su hijo, si los dio, y las medidas",
        kept_no_picture="ninguna foto, solo números",
        kept_some="{pictures} de {photos} fotos, con las caras ocultas; de las demás, solo números",
        kept_one="la foto, con la cara oculta",
        kept_all="{photos} fotos, con las caras ocultas",
        kept_tape="lo que midió la cinta en la tienda",
        delete_pictures="Borrar las fotos y conservar los números",
        pictures_deleted="Las fotos están borradas.",
        sure="Borrarlo todo, para siempre",
        delete="Borrar mi caso",
        deleted="Su caso está borrado.",
    ),
}
