"""Texts of the page for a present."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.app.texts.language import Language
from pose_fit.fit.robust import Kind

__all__ = ["GIFT", "ClueKind", "GiftTexts"]

ClueKind = Literal["picture", "trousers", "bicycle", "size"]


@dataclass(frozen=True, slots=True)
class GiftTexts:
    """The page for a present, from top to bottom."""

    title: str
    sentence: str
    only_guardian: str
    guardian: str
    clues: str
    clue_kinds: Mapping[ClueKind, str]
    picture: str
    picture_note: str
    picture_day: str
    gift_day: str
    gift_day_help: str
    on_the_day: str
    on_the_day_one: str
    today: str
    in_months: str
    grown: str
    lasts: str
    lasts_today: str
    chances: str
    under: str
    over: str
    nothing_safe: str
    nothing_safe_words: str
    nothing_of_kind: Mapping[Kind, str]
    other_kind: Mapping[Kind, str]
    show_kind: Mapping[Kind, str]
    first_clue: str
    check_entries: str
    exchange_title: str
    exchange_when: str
    too_big: str
    too_small: str
    exchange_more: tuple[str, ...]
    clue_table: tuple[str, str, str, str]
    lift: str
    lift_needs: str
    height: str
    age: str
    all_bicycles: str
    clue_out: str
    by_one_clue: str


GIFT: Final[Mapping[Language, GiftTexts]] = {
    "en": GiftTexts(
        title="A bicycle as a present",
        sentence="The child is not to know. Any clue will do, and two are better than one.",
        only_guardian="Only for the child’s parent or guardian, or with their agreement.",
        guardian="I am the child’s parent or guardian, or have their agreement",
        clues="What do you have?",
        clue_kinds={
            "picture": "A picture",
            "trousers": "Trousers that fit",
            "bicycle": "The bicycle it rides now",
            "size": "Body height or age",
        },
        picture="Choose pictures",
        picture_note="The child standing, head to feet, with something whose length is known: a sheet"
        " of paper, a door, a bicycle wheel. Up to {limit} MB each.",
        picture_day="Day of the picture",
        gift_day="Day of the present",
        gift_day_help="The legs grow until then.",
        on_the_day="For {day}, in {months} months",
        on_the_day_one="For {day}, in one month",
        today="For today",
        in_months="Inseam on that day",
        grown="The legs grow by about {length} until then.",
        lasts="After that: {lasts}.",
        lasts_today="From today on: {lasts}.",
        under="under",
        over="over",
        chances="Fits on the day: {fits}. Too big: {big}. Too small: {small}.",
        nothing_safe="No bicycle is safe enough to buy yet",
        nothing_safe_words="Give another clue. Or give a voucher, and choose together with the child.",
        nothing_of_kind={
            "pedals": "No bicycle with pedals fits for sure yet",
            "balance": "No balance bicycle fits for sure yet",
        },
        other_kind={
            "pedals": "A bicycle with pedals would fit too: **{name}**.",
            "balance": "A balance bicycle, which has no pedals, would fit too: **{name}**.",
        },
        show_kind={
            "pedals": "Show the bicycle with pedals",
            "balance": "Show the balance bicycle",
        },
        first_clue="Give one clue, and the answer stands here.",
        check_entries="Check each clue, the age and the body height. No bicycle is named until they go"
        " together.",
        exchange_title="Agree with the shop before you pay",
        exchange_when="Exchange for another size within two or three weeks after the day of the"
        " present, as long as the bicycle was only tried indoors.",
        too_big="If it turns out too big: {name}.",
        too_small="If it turns out too small: {name}.",
        exchange_more=(
            "Ask them to hold that size until then.",
            "Saddle and handlebar set, and brakes checked, in the shop with the child there.",
            "Keep the receipt. Try it over a carpet first, with an adult holding it.",
        ),
        clue_table=("Clue", "On the day", "19 in 20: ±", "Weight"),
        lift="Bicycle",
        lift_needs="With marking, standover and lift it gives the length of the legs.",
        height="Body height",
        age="Age",
        all_bicycles="All bicycles on that day",
        clue_out="{name} is left out: {fault}",
        by_one_clue="From one clue: {name}.",
    ),
    "es": GiftTexts(
        title="Una bicicleta de regalo",
        sentence="El niño no debe enterarse. Sirve cualquier pista, y dos son mejor que una.",
        only_guardian="Solo para la madre, el padre o el tutor, o con su permiso.",
        guardian="Soy la madre, el padre o el tutor del niño, o tengo su permiso",
        clues="¿Qué tiene?",
        clue_kinds={
            "picture": "Una foto",
            "trousers": "Un pantalón que le queda bien",
            "bicycle": "La bicicleta que usa ahora",
            "size": "La estatura o la edad",
        },
        picture="Elegir fotos",
        picture_note="El niño de pie, de la cabeza a los pies, con algo de longitud conocida: una hoja"
        " de papel, una puerta, una rueda de bicicleta. Hasta {limit} MB cada una.",
        picture_day="Día de la foto",
        gift_day="Día del regalo",
        gift_day_help="Las piernas crecen hasta entonces.",
        on_the_day="Para el {day}, dentro de {months} meses",
        on_the_day_one="Para el {day}, dentro de un mes",
        today="Para hoy",
        in_months="Entrepierna ese día",
        grown="Hasta entonces las piernas crecen unos {length}.",
        lasts="Después: {lasts}.",
        lasts_today="Desde hoy: {lasts}.",
        under="menos del",
        over="más del",
        chances="Le queda bien ese día: {fits}. Grande: {big}. Pequeña: {small}.",
        nothing_safe="Todavía ninguna es segura para comprarla",
        nothing_safe_words="Dé otra pista. O regale un vale y elijan juntos con el niño.",
        nothing_of_kind={
            "pedals": "Todavía ninguna con pedales le queda bien con certeza",
            "balance": "Todavía ninguna sin pedales le queda bien con certeza",
        },
        other_kind={
            "pedals": "También le quedaría bien una con pedales: **{name}**.",
            "balance": "También le quedaría bien una bicicleta de equilibrio, sin pedales:"
            " **{name}**.",
        },
        show_kind={
            "pedals": "Mostrar la bicicleta con pedales",
            "balance": "Mostrar la bicicleta de equilibrio",
        },
        first_clue="Dé una pista y la respuesta aparecerá aquí.",
        check_entries="Compruebe cada pista, la edad y la estatura. No se propone ninguna bicicleta"
        " hasta que concuerden.",
        exchange_title="Acuérdelo con la tienda antes de pagar",
        exchange_when="Cambio por otra talla en las dos o tres semanas siguientes al día del regalo,"
        " si la bicicleta solo se probó dentro de casa.",
        too_big="Si resulta grande: {name}.",
        too_small="Si resulta pequeña: {name}.",
        exchange_more=(
            "Pida que le reserven esa talla hasta entonces.",
            "Que ajusten sillín y manillar y revisen los frenos en la tienda, con el niño.",
            "Guarde el recibo. Pruébela primero sobre una alfombra, con un adulto que la sujete.",
        ),
        clue_table=("Pista", "Ese día", "19 de 20: ±", "Peso"),
        lift="Bicicleta",
        lift_needs="Con la medida, la altura y cuánto se levanta da la longitud de las piernas.",
        height="Estatura",
        age="Edad",
        all_bicycles="Todas las bicicletas ese día",
        clue_out="{name} no cuenta: {fault}",
        by_one_clue="De una sola pista: {name}.",
    ),
}
