"""Texts around the pages: title, links, privacy."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language

__all__ = ["SITE", "SiteTexts"]


@dataclass(frozen=True, slots=True)
class SiteTexts:
    """Around every page."""

    title: str
    my_child: str
    present: str
    my_case: str
    shop: str
    inches: str
    centimetres: str
    privacy: str
    forget: str
    lost: str
    no_connection: tuple[str, str]


SITE: Final[Mapping[Language, SiteTexts]] = {
    "en": SiteTexts(
        title="Which bicycle fits?",
        my_child="My child",
        present="A present",
        my_case="My case",
        shop="For the shop",
        inches="inches first",
        centimetres="centimetres first",
        privacy="Pictures and entries stay in the program’s memory for half an hour, for this browser"
        " alone. They go nowhere else unless you send them to the shop.",
        forget="Forget my pictures and entries now",
        lost="Anything you entered here before is no longer kept: half an hour has passed, the program"
        " was started anew, or this is another browser. What was sent to the shop is safe. Please"
        " choose your pictures again.",
        no_connection=(
            "No connection",
            "The program cannot be reached. The page goes on by itself once the connection is back.",
        ),
    ),
    "es": SiteTexts(
        title="¿Qué bicicleta le queda bien?",
        my_child="Mi hijo o hija",
        present="Un regalo",
        my_case="Mi caso",
        shop="Para la tienda",
        inches="primero pulgadas",
        centimetres="primero centímetros",
        privacy="Las fotos y los datos quedan media hora en la memoria del programa, solo para este"
        " navegador. No van a ningún otro sitio, salvo que usted los envíe a la tienda.",
        forget="Olvidar ahora mis fotos y datos",
        lost="Lo que usted introdujo antes aquí ya no se guarda: ha pasado media hora, el programa se"
        " ha reiniciado o este es otro navegador. Lo que envió a la tienda sigue a salvo. Elija sus"
        " fotos otra vez, por favor.",
        no_connection=(
            "Sin conexión",
            "No se llega al programa. La página sigue sola cuando vuelva la conexión.",
        ),
    ),
}
