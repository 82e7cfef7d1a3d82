"""Texts of the parent's page."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.report.answer import HowSure

__all__ = ["FAMILY", "FamilyTexts"]


@dataclass(frozen=True, slots=True)
class FamilyTexts:
    """The parent's page, from top to bottom."""

    title: str
    sentence: str
    stance_alt: str
    upload: str
    upload_help: str
    tape_instead: str
    print_sheet: str
    other_sheet: str
    how_title: str
    how: str
    sample: str
    sample_choose: str
    sample_show: str
    looking: str
    looking_at: str
    ahead_one: str
    ahead: str
    stop: str
    marking: str
    progress: str
    start_again: str
    try_first: str
    none_title: str
    none_words: str
    not_one: str
    check_title: str
    check_entries: str
    say_age: str
    one_child: str
    no_picture_title: str
    question_title: str
    how_sure: str
    sureness: Mapping[HowSure, str]
    inseam: str
    give_or_take: str
    surer: str
    add_pictures: str
    add_picture: str
    add_tape: str
    tape_again: str
    nothing_more: str
    next_title: str
    runner_up: str
    runner_up_larger: str
    next_size: str
    first_later: str
    settle_first: str
    not_in_stock: str
    picture: str
    pictures_title: str
    picture_says: str
    picture_odd: str
    pictures_agree: str
    pictures_disagree: str
    pictures_large: str
    turn_left: str
    turn_right: str
    remove: str
    wrong_object: str
    other_person: str
    which_child: str
    or_alone: str
    point_child: str
    marked: str
    tape_title: str
    trousers: str
    stature: str
    tape_agrees: str
    tape_differs: str
    others: str
    table: tuple[str, str, str]
    list_note: str
    growth: str
    numbers: str
    assumed: str
    card: str
    send: str
    own_bicycle: str
    catalogue: str
    between: str
    weights: str
    unsure_table: tuple[str, str, str]
    unsure_rest: str
    unsure_note: str
    for_surer: str
    by_stature: str


FAMILY: Final[Mapping[Language, FamilyTexts]] = {
    "en": FamilyTexts(
        title="Which bicycle fits?",
        sentence="Take a picture of your child against a wall, beside our sheet or a sheet of paper.",
        stance_alt="A child stands barefoot with both heels at a wall, feet a hand apart. A sheet"
        " hangs on the wall beside the knees. Somebody holds a phone level at the height of the"
        " child’s hips, 2 to 3 metres (7 to 10 feet) away.",
        upload="Take or choose pictures",
        upload_help="Three are best: from where you stand, a step to the left, a step to the right."
        " Up to {limit} MB each.",
        tape_instead="Use a tape instead",
        print_sheet="Print the sheet (PDF)",
        other_sheet="The sheet on {paper} (PDF)",
        how_title="How to take the picture",
        how="1. Print the sheet at 100 %, not “fit to page”.\n"
        "2. Hang it flat on the wall, its middle at the height of the child’s knees. No printer?"
        " A blank sheet of paper, a door or a bicycle wheel will do.\n"
        "3. The child stands beside it, facing you, heels at the wall, feet a hand apart, barefoot"
        " or in thin socks.\n"
        "4. Hold the phone level at the height of the child’s hips, 2 to 3 m (7 to 10 ft) away.\n"
        "5. Take three pictures: from there, a step to the left, a step to the right. Send the"
        " original files.",
        sample="Try it with a sample picture",
        sample_choose="Sample picture",
        sample_show="Measure this sample",
        looking="Looking at your picture …",
        looking_at="Picture {number} of {count}: {name}",
        ahead_one="1 picture is ahead of yours.",
        ahead="{count} pictures are ahead of yours.",
        stop="Stop",
        marking="Marking what was found …",
        progress="Measuring",
        start_again="Start again",
        try_first="Try this one first",
        none_title="None of these fits",
        none_words="Look for a bicycle with the top tube {low} to {high} above the floor.",
        not_one="The pictures do not agree",
        check_title="Is this the inseam?",
        check_entries="Measure again from the floor to the crotch, and check the age and the body"
        " height. No bicycle is named until they go together.",
        say_age="If it is the inseam, enter the age: then we can tell.",
        one_child="Yes, all show the same child",
        no_picture_title="No answer yet",
        question_title="One question first",
        how_sure="How sure that it fits?",
        sureness={"sure": "Sure", "fairly sure": "Fairly sure", "unsure": "Not sure yet"},
        inseam="Inseam",
        give_or_take="give or take {half}",
        surer="To be surer:",
        add_pictures="Add two more pictures: a step to the left, a step to the right",
        add_picture="Add one more picture",
        add_tape="Add a tape reading",
        tape_again="Measure again with the tape, three times in all, taking the book out in between.",
        nothing_more="Nothing more to measure. Try it with an adult holding the bicycle.",
        next_title="Next to it",
        runner_up="Runner-up",
        runner_up_larger="Runner-up, and the next size up",
        next_size="Next size up",
        first_later="The first to fit later",
        settle_first="May fit",
        not_in_stock="Would fit, not in stock",
        picture="Picture",
        pictures_title="What was measured",
        picture_says="{number}: {length}",
        picture_odd="{number}: {length}, unlike the others",
        pictures_agree="The pictures agree.",
        pictures_disagree="The pictures do not agree. Take the odd one again, or remove it.",
        pictures_large="Look closer, or put something right",
        turn_left="Turn it to the left",
        turn_right="Turn it to the right",
        remove="Remove {name}",
        wrong_object="Something else is beside the child",
        other_person="Measure another person",
        which_child="Which child is to be measured?",
        or_alone="Or take the picture again with one child alone.",
        point_child="the middle of the child to be measured",
        marked="{name} with marks, face hidden: hips, knees and ankles joined by lines; the object"
        " of known size marked by crosses; a line at the floor; a line at the crotch, {length}"
        " above it, with a band for how sure it is.",
        tape_title="Tape",
        trousers="Trousers",
        stature="Body height",
        tape_agrees="Picture and tape agree: {length} apart.",
        tape_differs="Picture and tape do not agree: {length} apart. One is likely wrong. Take both"
        " again before you rely on either.",
        others="Other bicycles",
        table=("Bicycle", "Above the top tube", "How long"),
        list_note="The first {shown} of {count} are shown.",
        growth="How long it will last",
        numbers="Numbers for the curious",
        assumed="What was said or assumed",
        card="Fit card to keep or print",
        send="Let the shop check it",
        own_bicycle="Does the child’s own bicycle still fit?",
        catalogue="Which bicycles",
        between="19 times in 20 between {low} and {high}.",
        weights="Weights: {weights}.",
        unsure_table=("What is unsure", "±", "Part of it"),
        unsure_rest="everything else",
        unsure_note="± is one standard uncertainty. Parts are shares of the variance.",
        for_surer="For a surer value",
        by_stature="From the body height alone. A picture or a tape is much surer.",
    ),
    "es": FamilyTexts(
        title="¿Qué bicicleta le queda bien?",
        sentence="Haga una foto de su hijo contra una pared, junto a nuestra hoja o a una hoja de"
        " papel.",
        stance_alt="Un niño de pie, descalzo, con los dos talones en la pared y los pies separados un"
        " palmo. Junto a las rodillas cuelga una hoja. Alguien sostiene un teléfono recto a la altura"
        " de las caderas del niño, a 2 o 3 metros.",
        upload="Hacer o elegir fotos",
        upload_help="Mejor tres: desde donde está, un paso a la izquierda y un paso a la derecha."
        " Hasta {limit} MB cada una.",
        tape_instead="Usar una cinta métrica",
        print_sheet="Imprimir la hoja (PDF)",
        other_sheet="La hoja en {paper} (PDF)",
        how_title="Cómo hacer la foto",
        how="1. Imprima la hoja al 100 %, sin «ajustar a la página».\n"
        "2. Cuélguela lisa en la pared, con el centro a la altura de las rodillas. ¿Sin impresora?"
        " Sirve una hoja en blanco, una puerta o una rueda de bicicleta.\n"
        "3. El niño se pone al lado, de frente, talones en la pared, pies separados un palmo,"
        " descalzo o con calcetines finos.\n"
        "4. Sostenga el teléfono recto a la altura de las caderas del niño, a 2 o 3 m.\n"
        "5. Haga tres fotos: desde ahí, un paso a la izquierda y un paso a la derecha. Envíe los"
        " archivos originales.",
        sample="Probar con una foto de muestra",
        sample_choose="Foto de muestra",
        sample_show="Medir esta muestra",
        looking="Mirando su foto …",
        looking_at="Foto {number} de {count}: {name}",
        ahead_one="Hay 1 foto antes de la suya.",
        ahead="Hay {count} fotos antes de la suya.",
        stop="Parar",
        marking="Marcando lo que se vio …",
        progress="Midiendo",
        start_again="Empezar de nuevo",
        try_first="Pruebe primero esta",
        none_title="Ninguna le queda bien",
        none_words="Busque una bicicleta con el tubo superior entre {low} y {high} del suelo.",
        not_one="Las fotos no coinciden",
        check_title="¿Es esta la entrepierna?",
        check_entries="Mida otra vez del suelo a la entrepierna y compruebe la edad y la estatura. No"
        " se propone ninguna bicicleta hasta que concuerden.",
        say_age="Si es la entrepierna, indique la edad: así podremos saberlo.",
        one_child="Sí, es el mismo niño en todas",
        no_picture_title="Todavía sin respuesta",
        question_title="Antes, una pregunta",
        how_sure="Certeza de que le queda bien:",
        sureness={"sure": "alta", "fairly sure": "media", "unsure": "todavía baja"},
        inseam="Entrepierna",
        give_or_take="más o menos {half}",
        surer="Para tener más certeza:",
        add_pictures="Añada dos fotos: un paso a la izquierda y un paso a la derecha",
        add_picture="Añada otra foto",
        add_tape="Añadir una medida con cinta",
        tape_again="Mida otra vez con la cinta, tres veces en total, sacando el libro entre medias.",
        nothing_more="No hay más que medir. Pruébela con un adulto que sujete la bicicleta.",
        next_title="Cerca de esta",
        runner_up="La segunda",
        runner_up_larger="La segunda, y la talla siguiente",
        next_size="Una talla más",
        first_later="La primera que le quedará bien más adelante",
        settle_first="Puede irle bien",
        not_in_stock="Le iría bien, agotada",
        picture="Foto",
        pictures_title="Qué se midió",
        picture_says="{number}: {length}",
        picture_odd="{number}: {length}, distinta de las otras",
        pictures_agree="Las fotos coinciden.",
        pictures_disagree="Las fotos no coinciden. Repita o quite la que es distinta.",
        pictures_large="Mirar de cerca o corregir algo",
        turn_left="Girarla a la izquierda",
        turn_right="Girarla a la derecha",
        remove="Quitar {name}",
        wrong_object="Hay otra cosa junto al niño",
        other_person="Medir a otra persona",
        which_child="¿A qué niño hay que medir?",
        or_alone="O repita la foto con un solo niño.",
        point_child="el centro del niño que hay que medir",
        marked="{name} con marcas y la cara oculta: caderas, rodillas y tobillos unidos por líneas; el"
        " objeto de tamaño conocido marcado con cruces; una línea en el suelo; una línea en la"
        " entrepierna, {length} más arriba, con una banda que dice lo segura que es.",
        tape_title="Cinta",
        trousers="Pantalón",
        stature="Estatura",
        tape_agrees="La foto y la cinta coinciden: {length} de diferencia.",
        tape_differs="La foto y la cinta no coinciden: {length} de diferencia. Una estará mal."
        " Repita las dos antes de fiarse.",
        others="Otras bicicletas",
        table=("Bicicleta", "Sobre el tubo superior", "Cuánto dura"),
        list_note="Se muestran las primeras {shown} de {count}.",
        growth="Cuánto tiempo le servirá",
        numbers="Números para curiosos",
        assumed="Lo que se dijo o se supuso",
        card="Ficha para guardar o imprimir",
        send="Que la tienda lo compruebe",
        own_bicycle="¿Aún le sirve la bicicleta que tiene?",
        catalogue="Qué bicicletas",
        between="19 de cada 20 veces entre {low} y {high}.",
        weights="Pesos: {weights}.",
        unsure_table=("Qué es inseguro", "±", "Parte"),
        unsure_rest="todo lo demás",
        unsure_note="± es una incertidumbre típica. Las partes lo son de la varianza.",
        for_surer="Para un valor más seguro",
        by_stature="Solo por la estatura. Una foto o una cinta es mucho más segura.",
    ),
}
