"""Texts of the page of one case: what is read there."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["CASE", "CaseTexts"]


@dataclass(frozen=True, slots=True)
class CaseTexts:
    """What is read on the page, from top to bottom."""

    back: str
    changed_elsewhere: str
    show_newest: str
    standing: str
    code: str
    faster: str
    do_it_too: str
    drop: str
    decide: str
    decide_no_number: str
    answered: str
    by: str
    give_or_take: str
    sent_in: str
    note: str
    first_choice: str
    none_fits: str
    wanted_for: str
    correction_off: str
    turn_on: str
    turn_off: str
    picture: str
    no_photo: str
    photo: str
    photo_words: str
    no_number: str
    earlier: str
    no_picture: str
    picture_alt: str
    picture_plain: str
    mark_object: str
    heels: str
    as_changed: str
    as_changed_nothing: str
    half_marked: str
    keep_change: str
    take_back: str
    kept_facts: Mapping[str, str]
    child: str
    ages: tuple[str, str]
    sexes: Mapping[str, str]
    not_said: str
    stature: tuple[str, str]
    no_clue: str
    clue_table: tuple[str, str]
    clues: Mapping[str, str]
    tape: str
    tape_none: str
    tape_longer: str
    tape_shorter: str
    tape_photo: str
    tape_grown: str
    tried: tuple[str, str]
    tried_name: str
    growth: str
    growth_table: tuple[str, str]
    growth_now: str
    growth_alt: str
    budget: str
    card: str
    card_first: str
    card_checked: str
    card_language: str
    history: str
    history_table: tuple[str, str, str]


CASE: Final[Mapping[Language, CaseTexts]] = {
    "en": CaseTexts(
        back="Back to the list",
        changed_elsewhere="Somebody changed this case while you had it open. You see the version"
        " before.",
        show_newest="Show the newest version",
        standing="**{state}.** Sent {moment}.",
        code="Reply code {code}, version {version}.",
        faster="While you had version {version} open, {name} was faster: {did}. Nothing is lost. You"
        " meant to: **{meant}**.",
        do_it_too="Do it to this version too",
        drop="Drop my change",
        decide="Is this inseam right?",
        decide_no_number="No inseam could be measured",
        answered="The shop’s answer",
        by="By {name}, {moment}.",
        give_or_take="{length}, give or take {half}",
        sent_in="Sent in as {estimate}.",
        note="The shop wrote: {note}",
        first_choice="First to try: **{name}**, {word}.",
        none_fits="None of the bicycles fits for sure.",
        wanted_for="Wanted for {day}: by then {estimate}.",
        correction_off="The correction by photo and tape is off.",
        turn_on="Turn the correction on",
        turn_off="Turn the correction off",
        picture="Picture",
        no_photo="No photo was sent with this case.",
        photo="Photo",
        photo_words="{number}: {length}",
        no_number="no number",
        earlier="{words}, an earlier one",
        no_picture="No picture is kept of this photo, only its numbers.",
        picture_alt="The picture sent in",
        picture_plain="The picture sent in, face hidden",
        mark_object="Mark the object of known size",
        heels="The family says that both heels were on the floor",
        as_changed="As changed: **{length}**",
        as_changed_nothing="With these marks the photo gives no number.",
        half_marked="The object is not all marked yet.",
        keep_change="Keep the change",
        take_back="Take the change back",
        kept_facts={
            "object": "Measured by: {value}.",
            "size": "Size: {value}.",
            "soles": "Soles: {value}.",
            "barefoot": "Barefoot.",
            "legwear": "Legs: {value}.",
            "heels": "Heels said to be on the floor.",
            "ruler": "Ruler on the sheet: {value}.",
            "taken": "Taken on {value}.",
        },
        child="The child",
        ages=("{years} years", "age not said"),
        sexes={"f": "girl", "m": "boy"},
        not_said="sex not said",
        stature=("{length} tall", "height not said"),
        no_clue="No tape, no trousers, nothing else was given.",
        clue_table=("What else is known", "Inseam"),
        clues={
            "tape": "Tape, {care}: {readings}",
            "trousers": "Trousers, inside seam {length}",
            "lift": "Bicycle with standover {length}, lifted {lift}",
        },
        tape="Tape in the shop: **{estimate}**. {name}, {day}.",
        tape_none="There is no photo of this case to compare it with.",
        tape_longer="{photo} read {apart} longer. Up to {most} is expected of photo and tape.",
        tape_shorter="{photo} read {apart} shorter. Up to {most} is expected of photo and tape.",
        tape_photo="The photo",
        tape_grown="The photo, grown to that day,",
        tried=("{name} touched.", "{name} did not touch."),
        tried_name="The bicycle that was tried",
        growth="This child’s growth, {count} measurements",
        growth_table=("Day", "Inseam"),
        growth_now="Today, by all of them together: **{now}**. In a year: {later}.",
        growth_alt="Growth chart: measured on {days}; {now} today, {later} in a year.",
        budget="What is unsure",
        card="Fit card for the family",
        card_first="Answer the case first: the card carries the shop’s word.",
        card_checked="Checked by our fitter",
        card_language="Language of the card",
        history="History",
        history_table=("When", "Who", "What"),
    ),
    "es": CaseTexts(
        back="Volver a la lista",
        changed_elsewhere="Alguien cambió este caso mientras usted lo tenía abierto. Ve la versión"
        " anterior.",
        show_newest="Mostrar la versión más nueva",
        standing="**{state}.** Enviado {moment}.",
        code="Código de respuesta {code}, versión {version}.",
        faster="Mientras usted tenía abierta la versión {version}, {name} fue más rápido: {did}. No se"
        " pierde nada. Usted quería: **{meant}**.",
        do_it_too="Hacerlo también en esta versión",
        drop="Dejar mi cambio",
        decide="¿Es correcta esta entrepierna?",
        decide_no_number="No se pudo medir la entrepierna",
        answered="La respuesta de la tienda",
        by="De {name}, {moment}.",
        give_or_take="{length}, más o menos {half}",
        sent_in="Se envió como {estimate}.",
        note="La tienda escribió: {note}",
        first_choice="Primero probar: **{name}**, {word}.",
        none_fits="Ninguna bicicleta le queda bien con certeza.",
        wanted_for="Para el {day}: entonces {estimate}.",
        correction_off="La corrección por foto y cinta está apagada.",
        turn_on="Encender la corrección",
        turn_off="Apagar la corrección",
        picture="Foto",
        no_photo="Con este caso no se envió ninguna foto.",
        photo="Foto",
        photo_words="{number}: {length}",
        no_number="sin número",
        earlier="{words}, anterior",
        no_picture="De esta foto no se guarda la imagen, solo sus números.",
        picture_alt="La foto enviada",
        picture_plain="La foto enviada, con la cara oculta",
        mark_object="Marcar el objeto de tamaño conocido",
        heels="La familia dice que los dos talones estaban en el suelo",
        as_changed="Con el cambio: **{length}**",
        as_changed_nothing="Con estas marcas la foto no da ningún número.",
        half_marked="El objeto todavía no está marcado del todo.",
        keep_change="Guardar el cambio",
        take_back="Deshacer el cambio",
        kept_facts={
            "object": "Medido con: {value}.",
            "size": "Tamaño: {value}.",
            "soles": "Suelas: {value}.",
            "barefoot": "Descalzo.",
            "legwear": "Piernas: {value}.",
            "heels": "Talones en el suelo, según la familia.",
            "ruler": "Regla de la hoja: {value}.",
            "taken": "Foto del {value}.",
        },
        child="El niño",
        ages=("{years} años", "edad sin decir"),
        sexes={"f": "niña", "m": "niño"},
        not_said="sexo sin decir",
        stature=("mide {length}", "estatura sin decir"),
        no_clue="No hay cinta, ni pantalón, ni otra medida.",
        clue_table=("Qué más se sabe", "Entrepierna"),
        clues={
            "tape": "Cinta, {care}: {readings}",
            "trousers": "Pantalón, costura interior {length}",
            "lift": "Bicicleta con altura {length}, levantada {lift}",
        },
        tape="Cinta en la tienda: **{estimate}**. {name}, {day}.",
        tape_none="De este caso no hay foto con la que compararla.",
        tape_longer="{photo} dio {apart} más. De foto y cinta se esperan hasta {most}.",
        tape_shorter="{photo} dio {apart} menos. De foto y cinta se esperan hasta {most}.",
        tape_photo="La foto",
        tape_grown="La foto, llevada a ese día,",
        tried=("{name} tocaba.", "{name} no tocaba."),
        tried_name="La bicicleta que se probó",
        growth="Cómo crece este niño, {count} medidas",
        growth_table=("Día", "Entrepierna"),
        growth_now="Hoy, con todas juntas: **{now}**. Dentro de un año: {later}.",
        growth_alt="Gráfico de crecimiento: medido el {days}; hoy {now}, en un año {later}.",
        budget="Qué no se sabe con certeza",
        card="Ficha para la familia",
        card_first="Responda antes al caso: la ficha lleva la palabra de la tienda.",
        card_checked="Comprobado por nuestro personal",
        card_language="Idioma de la ficha",
        history="Historia",
        history_table=("Cuándo", "Quién", "Qué"),
    ),
}
