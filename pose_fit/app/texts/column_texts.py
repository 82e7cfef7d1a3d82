"""The catalogue's columns in Spanish; their English meaning stands with their definition."""

from collections.abc import Mapping
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.bicycle.columns import COLUMNS

__all__ = ["COLUMN_MEANINGS"]

#: Meaning of each column by its name.
COLUMN_MEANINGS: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {column.name: column.meaning for column in COLUMNS},
    "es": {
        "name": "Cómo llama la tienda a la bicicleta, talla incluida; cada nombre una sola vez.",
        "tyre": "Medida en el costado del neumático, como 20 x 1.75 o 47-406.",
        "standover": "Del suelo a la parte alta del tubo superior, donde el ciclista pone las piernas,"
        " justo delante del sillín, con los neumáticos inflados. En un cuadro bajo: el punto más"
        " bajo por donde se pasa.",
        "standover_source": "measured (con cinta, en la tienda), published (dato del fabricante) o"
        " unknown (no se sabe).",
        "frame": "level (tubo horizontal), sloping (inclinado), step_through (cuadro bajo) o unknown.",
        "pedals": "yes, o no si es una bicicleta sin pedales, que el niño empuja con los pies.",
        "kind": "bicycle, o balance si no tiene pedales. Un triciclo se sostiene solo y una BMX se monta"
        " de pie: la entrepierna no da su talla, así que no los incluya.",
        "top_tube_slope": "Cuánto sube el tubo superior hacia delante.",
        "saddle_min": "Del suelo a lo alto del sillín en su punto más bajo.",
        "saddle_max": "Del suelo a lo alto del sillín con la tija en su marca de límite.",
        "crank": "Del centro del pedalier al centro del eje de un pedal.",
        "bottom_bracket_height": "Del suelo al centro del pedalier.",
        "seat_tube_angle": "Ángulo del tubo del sillín con el suelo; 90 es vertical.",
        "handlebar_reach": "En horizontal, del pedalier hacia delante hasta la mitad de los puños, con"
        " el manillar recto.",
        "handlebar_height": "Del suelo a la mitad de los puños.",
        "wheelbase": "Del eje trasero al eje delantero.",
        "chainstay": "Del pedalier al eje trasero.",
        "front_centre": "Del pedalier al eje delantero.",
        "price": "En la moneda de la tienda.",
        "in_stock": "yes (en tienda) o no.",
    },
}
