"""What the library says, by its code, in Spanish: plain sentences without the numbers.

English is the library's own; each Spanish sentence also says what to do, since the library's
remedies are English.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.budget_sources import BudgetSource
from pose_fit.checks.retake_spanish import advice_es
from pose_fit.errors import (
    CaseBookError,
    CatalogueError,
    LengthError,
    PersonError,
    PhotoFileError,
    PoseFitError,
    ReferenceObjectError,
    TyreMarkingError,
    WorkStoppedError,
)
from pose_fit.notice_codes import NoticeCode
from pose_fit.refusal import Ask, Notice

__all__ = [
    "FAULTS_ES",
    "MESSAGES",
    "NOTICES_ES",
    "SOURCES_ES",
    "MessageTexts",
    "advice_text",
    "notice_text",
    "source_text",
]


@dataclass(frozen=True, slots=True)
class MessageTexts:
    """Words around what the library says, and how to state on the page what would help."""

    not_measured: str
    helps: str
    refused_file: str
    refused_list: str
    asks: Mapping[Ask, str]


MESSAGES: Final[Mapping[Language, MessageTexts]] = {
    "en": MessageTexts(
        not_measured="This picture cannot be measured.",
        helps="What helps:",
        refused_file="Not taken. Choose pictures or short clips, up to {limit} MB each.",
        refused_list="Not taken. Save the table as CSV, and choose that file.",
        asks={
            "age": "Fill in the age.",
            "crotch": "Click where the legs part.",
            "floor": "Click the tip of the toes.",
            "heels_down": "Say whether both heels were on the floor.",
            "person": "Or click on the child.",
            "points": "Or click the points of the object yourself.",
            "ruler": "Fill in what the sheet’s ruler measures.",
            "same_child": "Say whether all pictures show the same child.",
            "size": "Choose the object, and fill in its size.",
            "soles": "Fill in how thick the soles are.",
            "taken": "Fill in the day of the picture.",
        },
    ),
    "es": MessageTexts(
        not_measured="Esta foto no se puede medir.",
        helps="Qué ayuda:",
        refused_file="No se puede usar. Elija fotos o vídeos cortos, hasta {limit} MB cada uno.",
        refused_list="No se puede usar. Guarde la tabla como CSV y elija ese archivo.",
        asks={
            "age": "Escriba la edad.",
            "crotch": "Pulse donde se separan las piernas.",
            "floor": "Pulse en la punta de los pies.",
            "heels_down": "Diga si los dos talones estaban en el suelo.",
            "person": "O pulse sobre el niño.",
            "points": "O marque usted los puntos del objeto.",
            "ruler": "Escriba cuánto mide la regla de la hoja.",
            "same_child": "Diga si todas las fotos son del mismo niño.",
            "size": "Elija el objeto y escriba su tamaño.",
            "soles": "Escriba el grosor de las suelas.",
            "taken": "Escriba el día de la foto.",
        },
    ),
}

_RETAKE_ES: Final = "Repita la foto con el niño de pie, recto, con los dos talones en la pared."

NOTICES_ES: Final[Mapping[NoticeCode, str]] = {
    # The picture
    "picture_dark": "La foto es demasiado oscura en las piernas. Repítala con más luz.",
    "picture_overexposed": "La foto está quemada de luz. Repítala sin el sol de frente.",
    "picture_blurred": "La foto está borrosa. Apoye el teléfono y repítala.",
    "picture_rotated": "La foto parece girada. Gírela hasta que el niño esté de pie.",
    "picture_mirrored": "La foto parece reflejada, como en un espejo. Use la cámara trasera.",
    "picture_collage": "La imagen parece hecha de varias fotos. Envíe la foto original.",
    "picture_screenshot": "Parece una captura de pantalla. Envíe la foto original.",
    "photo_unreadable": "El archivo no es una foto que se pueda leer.",
    # The person
    "nobody": "No se ve a nadie en la foto. Tome al niño entero, de la cabeza a los pies.",
    "nobody_there": "No hay nadie bien visible en ese punto. Señale otra vez al niño.",
    "several_people": "Hay varias personas en la foto. Señale al niño que quiere medir.",
    "others_in_picture": "Parece que hay alguien más en la foto; se midió a la persona más grande.",
    "people_overlap": "Otra persona tapa las piernas. Repita la foto con el niño solo.",
    "person_chosen": "Se midió a la persona señalada.",
    "pose_unsure": f"No se distinguen bien las piernas. {_RETAKE_ES}",
    "hips_out_of_frame": "Las caderas quedan fuera de la foto. Aléjese un poco.",
    "feet_out_of_frame": "Los pies quedan fuera de la foto. Aléjese un poco.",
    "child_too_small": "El niño es demasiado pequeño en la foto. Acérquese.",
    "legs_hidden": "Parte de las piernas no se ve. Repita la foto con las piernas a la vista.",
    "not_upright": f"El niño no está derecho en la foto. {_RETAKE_ES}",
    "side_view": f"El niño se ve de lado. {_RETAKE_ES}",
    "back_view": f"El niño se ve de espaldas. {_RETAKE_ES}",
    "before_wall": f"Puede que el niño esté lejos de la pared: así la medida sale larga. {_RETAKE_ES}",
    "feet_staggered": f"Un pie está algo delante del otro. {_RETAKE_ES}",
    "walking": f"Un pie está delante del otro. {_RETAKE_ES}",
    "sitting": f"El niño parece sentado o agachado. {_RETAKE_ES}",
    "leg_bent": f"Una rodilla está doblada. {_RETAKE_ES}",
    "leg_raised": f"Un pie no está en el suelo. {_RETAKE_ES}",
    "stride": f"Los pies están demasiado separados. {_RETAKE_ES}",
    "knees_bent": "Una rodilla parece algo doblada.",
    "feet_uneven": f"Un pie se ve más alto que el otro: levantado, sobre un escalón o más atrás. {_RETAKE_ES}",
    "feet_off_floor": f"Los pies se ven demasiado altos junto a la pared: de puntillas, sobre algo o en el aire. {_RETAKE_ES}",
    "legs_unlike": f"Las dos piernas no se ven iguales: quizá una rodilla doblada o un pie levantado. {_RETAKE_ES}",
    "on_tiptoe": f"El niño parece estar de puntillas. {_RETAKE_ES}",
    "heels_unseen": "La foto no muestra con seguridad si los talones estaban en el suelo.",
    # What was found
    "book_slipped": "El libro no está arriba del todo entre las piernas. Súbalo hasta que toque y repita la foto.",
    "reference_ambiguous": "Hay varios objetos que podrían servir de medida. Deje uno solo o señálelo.",
    "reference_hidden": "El objeto de medida se ve solo en parte. Repita la foto con el objeto entero a la vista.",
    "person_unlikely": "Con ese tamaño del objeto, la persona tendría medidas que no existen. Compruebe el objeto.",
    "inseam_rare": "Muy pocos niños así tienen esa medida. Compruebe los datos.",
    "legs_unfamiliar": "Las piernas de esta foto no se parecen a las conocidas; la medida es menos segura.",
    "crotch_hidden": "No se ve dónde se separan las piernas: la ropa lo tapa o los pies se juntan.",
    "crotch_guessed": "La entrepierna señalada queda detrás de la ropa y cuenta como suposición.",
    "crotch_click_elsewhere": "La entrepierna no se señaló entre caderas y rodillas.",
    "floor_click_elsewhere": "El suelo no se señaló en la punta de los pies.",
    "crotch_and_hips_disagree": f"Las caderas y la entrepierna dicen medidas muy distintas: una no es cierta. {_RETAKE_ES}",
    "readings_disagree": "Las medidas no coinciden entre sí. Repita las dos antes de fiarse.",
    "readings_differ": "Las dos lecturas de la foto difieren algo; por eso es menos segura.",
    "implausible": "Ningún niño tiene piernas así. Compruebe qué objeto hay en la foto.",
    "too_unsure": "La foto deja la medida demasiado insegura. Use la cinta u otra foto.",
    # The object of known size
    "reference_missing": "No se encontró en la foto un objeto de tamaño conocido.",
    "reference_small": "El objeto es pequeño en la foto. Acérquese un poco.",
    "reference_oblique": "El objeto se ve muy de lado. Haga la foto de frente.",
    "reference_mismatch": "La forma del objeto no es la que se indicó. Compruebe cuál es.",
    "reference_uneven": "Las marcas del objeto no encajan entre sí: está doblado o se imprimió deformado.",
    "reference_scale": "El tamaño del objeto no encaja con el niño. Compruebe cuál es.",
    "view_oblique": "La foto está tomada muy de lado. Hágala de frente.",
    "door_height_assumed": "Se supuso una puerta de 203 cm (80 in). Mídala.",
    "print_scale_unknown": "No se sabe a qué escala se imprimió la hoja. Mida su regla.",
    "print_scale_differs": "La regla indicada no encaja con el papel. Mídala otra vez.",
    "reference_none": "No se encontró una hoja impresa, un papel ni una rueda en la foto.",
    "tyre_code_wanted": "Hay una rueda, pero la foto no dice su tamaño. Lea su medida en la goma.",
    "paper_unsure": "No es seguro que lo encontrado sea una hoja de papel. Diga qué es.",
    "size_unsure": "El objeto puede ser de dos tamaños. Diga cuál es.",
    "size_on_trust": "La foto sola no demuestra el tamaño del objeto. Compruébelo.",
    "camera_nowhere": "Con ese objeto la cámara estaría donde nadie la sostiene. Compruebe cuál es.",
    "points_on_border": "Un punto del objeto está en el borde de la foto. Márquelo otra vez.",
    "points_on_person": "Los puntos marcan al niño, no el objeto. Márquelos otra vez.",
    "points_missing": "El objeto todavía no está marcado en esta foto.",
    "crown_hidden": "La parte alta de la cabeza no se ve bien. Repita la foto.",
    "head_bowed": "La cabeza está inclinada. Repita la foto mirando al frente.",
    "book_label_hidden": "La etiqueta del libro no se ve entera. Repita la foto.",
    "book_tilted": "La etiqueta del libro está torcida. Repita la foto con el libro recto.",
    # Several readings, and other days
    "not_one_child": "Las medidas no pueden ser de un mismo niño. Quite la que está mal.",
    "children_unlike": "Los niños de las fotos no parecen el mismo. Diga si lo es, o quite la foto del otro.",
    "two_answers": "La foto admite dos respuestas. Diga cuál vale o repita la foto.",
    "second_answer": "La foto admite también otra medida, que cabe en el margen.",
    "frames_disagree": "Las imágenes del vídeo no coinciden. Grábelo otra vez, despacio.",
    "clip_frames": "Se midieron varias imágenes del vídeo.",
    "grown_since": "La foto es de hace tiempo; la medida se llevó a hoy con el crecimiento habitual.",
    "picture_too_old": "La foto es demasiado antigua para saber cómo son las piernas hoy.",
    "picture_day_to_come": "La fecha de la foto está en el futuro; se toma por una de hoy.",
    "inseam_unusual": "Es una medida poco habitual para lo que se dijo del niño. Compruébela.",
    "inseam_implausible": "Ningún niño así tiene esa medida. Compruebe los datos.",
    "corrected": "La medida se corrigió con lo que la tienda aprendió de sus propias cintas.",
    "lift_check": "Así se comprueba levantando la bicicleta.",
    "pairs_moved": "Las últimas fotos miden distinto que las de antes. Mire qué ha cambiado.",
    "pairs_new_length": "Hay piernas más cortas o más largas que antes.",
    "pairs_new_object": "Hay un objeto nuevo en las últimas fotos.",
    "pairs_spread": "Las últimas medidas se dispersan más de lo esperado.",
    # Tape, trousers, lift, age
    "lifted_whole": "Se cuenta como levantadas las dos ruedas. Diga si fue solo la delantera.",
    "tape_looks_like_stature": "Parece la estatura. Mida del suelo a la entrepierna.",
    "tape_looks_like_trousers": "Parece la costura de un pantalón. Mida del suelo a la entrepierna.",
    "tape_odd_reading": "Una medida se aparta de las otras. Mida otra vez.",
    "tape_readings_disagree": "Las dos medidas se apartan. Mida una tercera vez.",
    "inseam_from_age": "Es el promedio de los niños de esa edad, no la medida de este niño.",
    "inseam_from_stature": "Es el promedio de los niños de esa estatura, no la medida de este niño.",
    "inseam_from_trousers": "La costura no es la entrepierna: se sumó lo que suele faltar.",
    "top_tube_never_touches": "Levantando solo la rueda delantera el tubo superior no toca. Levante la bicicleta entera.",
    "top_tube_touches": "El tubo superior toca antes de levantar nada: la pierna es más corta.",
    "nothing_given": "No se midió nada.",
    # Bicycles
    "clearance": "Así queda el espacio sobre el tubo superior.",
    "contact_risk": "El tubo superior podría tocar: no se recomienda.",
    "not_likely_enough": "Seguramente salva el tubo superior, pero con menos espacio del deseado.",
    "lowest_saddle": "Cuenta si llega al suelo con el sillín en lo más bajo.",
    "not_judged": "Faltan medidas de esta bicicleta: mida su sillín.",
    "room_to_grow": "Durará hasta que las piernas crezcan más.",
    "cramped_nothing": "Puede que ya se haya quedado pequeña.",
    "cramped_saddle": "El sillín en lo más alto puede quedar bajo para estas piernas.",
    "cramped_knees": "Las rodillas quedan muy cerca del manillar.",
    "cramped_lift": "Tanto espacio indica que es pequeña; las alturas del sillín lo dirían.",
    "no_top_tube": "Este cuadro no tiene tubo superior que salvar. Decide su sillín.",
    "no_pedals": "No tiene pedales y a menudo tampoco freno. Lejos de cuestas y del tráfico.",
    "rules": "Así resulta según su geometría.",
    "same_file": "Es el mismo archivo que otro. Cuenta una sola vez.",
    "seat": "Así queda sentado el niño.",
    "hopeless": "Demasiado grande o pequeña para sentarse.",
    "bicycle_unmeasured": "Mida esta bicicleta antes de decidir: su altura no se midió en la tienda, o le faltan medidas.",
    "standover_not_measured": "Su altura no se midió en la tienda. Mídala antes de decidir.",
    "sloping_top_tube": "Póngase sobre ella justo delante del sillín: más adelante el tubo superior es más alto.",
    "frame_unknown": "No se conoce la forma del cuadro; se juzga como si tuviera tubo superior.",
    "learner_feet": "Quien aún aprende necesita los dos pies planos en el suelo; aquí no es seguro.",
    "step_through": "No tiene tubo superior: decide el sillín. La norma de Estados Unidos (16 CFR 1512.19) mide un cuadro así como si lo tuviera.",
    "stretch": "Tiene menos espacio del deseado: un adulto la sujeta al arrancar y parar.",
    "geometry_missing": "Faltan medidas de la bicicleta; es una suposición.",
    "toe_overlap": "Los pies pueden tocar la rueda delantera al girar despacio.",
    "overreach": "Los puños quedan lejos de los brazos.",
    "crowded": "Los muslos suben cerca del cuerpo en cada pedalada.",
    "tyre_ambiguous": "La medida del neumático puede ser de varias ruedas.",
    # Work on many photos
    "unexpected_error": "Ha fallado algo inesperado. Inténtelo otra vez.",
    "worker_crashed": "El programa se interrumpió. Inténtelo otra vez.",
    "arguments_unusable": "Faltan datos para medir esta foto.",
}

#: What a value is unsure by, by the name in its budget.
SOURCES_ES: Final[Mapping[BudgetSource, str]] = {
    "age or sex not known": "edad o sexo sin decir",
    "ankle height": "altura del tobillo",
    "book": "el libro",
    "camera tilt": "inclinación de la cámara",
    "children grow unlike each other": "los niños crecen de forma distinta",
    "clothing": "ropa",
    "crotch click": "punto señalado en la entrepierna",
    "crotch edge": "borde de la entrepierna",
    "disagreement of the readings": "las medidas no coinciden",
    "distance from the wall": "distancia a la pared",
    "floor": "suelo",
    "floor click": "punto señalado en el suelo",
    "focal length": "distancia focal",
    "foot length": "longitud del pie",
    "from pictures to people": "diferencia entre niños simulados y reales",
    "growth differs between countries": "el crecimiento varía entre países",
    "hip to crotch": "de la cadera a la entrepierna",
    "how low the trouser crotch hangs": "cuánto cuelga el tiro del pantalón",
    "leg length differs between children of one stature": "la pierna varía a igual estatura",
    "lens": "objetivo",
    "lift reading": "medida al levantar la bicicleta",
    "photo, as stated": "foto, según lo declarado",
    "place on the top tube": "lugar en la barra",
    "pose landmarks": "articulaciones vistas",
    "pose model": "modelo de postura",
    "posture": "postura",
    "raised heels": "talones levantados",
    "reference points": "puntos del objeto",
    "reference shape": "forma del objeto",
    "reference size": "tamaño del objeto",
    "resolution of the reading": "resolución de la medida",
    "riding shoe": "calzado para montar",
    "seam as measured": "medida de la costura",
    "shoe soles": "suelas",
    "standover height": "altura de la barra",
    "stated uncertainty": "incertidumbre declarada",
    "stature as measured": "medida de la estatura",
    "stature differs between children of one age": "la estatura varía a igual edad",
    "statures differ between countries": "la estatura varía entre países",
    "tape readings repeat": "repetición con la cinta",
    "tape technique (book, posture, shoes)": "uso de la cinta (libro, postura, calzado)",
    "what is known of children's proportions": "lo que se sabe de las proporciones infantiles",
    "where the hem ends above the floor": "altura del bajo sobre el suelo",
    "which object it is": "qué objeto es",
    "which of several readings": "cuál de varias lecturas",
}

#: What is wrong with an entry, by the kind of error; the first that fits is told.
FAULTS_ES: Final[Mapping[type[PoseFitError], str]] = {
    LengthError: "Esto no es una longitud. Escriba por ejemplo 64.8 cm.",
    PhotoFileError: "Este archivo no es una foto que se pueda leer.",
    WorkStoppedError: "El programa se paró con este archivo. Elija otro, o inténtelo otra vez.",
    TyreMarkingError: "Esto no es una medida de neumático.",
    CatalogueError: "La lista de bicicletas tiene un error.",
    PersonError: "Ese valor no puede ser de un niño. Compruébelo.",
    ReferenceObjectError: "Los datos del objeto no encajan. Compruébelos.",
    CaseBookError: "La tienda no lo ha podido recibir. Inténtelo otra vez.",
    PoseFitError: "Eso no se puede usar. Compruebe los datos.",
}


def notice_text(notice: Notice, language: Language) -> str:
    """The library's sentence, or ours for its code."""
    return notice.message if language == "en" else NOTICES_ES.get(notice.code, notice.message)


def advice_text(advice: Sequence[str], language: Language) -> tuple[str, ...]:
    """What would make a value surer; what has no words in the language is left out."""
    if language == "en":
        return tuple(advice)
    return tuple(said for line in advice if (said := advice_es(line)) is not None)


def source_text(source: BudgetSource, language: Language) -> str:
    """A source of uncertainty in words; in English its name."""
    return source if language == "en" else SOURCES_ES[source]
