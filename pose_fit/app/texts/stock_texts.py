"""Texts of the page of the shop's bicycles."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pose_fit.app.texts.language import Language
from pose_fit.bicycle.bicycle import Frame, StandoverSource
from pose_fit.bicycle.standover_doubts import DoubtKind

__all__ = ["STOCK", "StockTexts"]


@dataclass(frozen=True, slots=True)
class StockTexts:
    """From top to bottom."""

    none: str
    count: str
    measure: str
    measure_how: str
    measured: str
    standover: str
    keep: str
    doubt: str
    doubts: Mapping[DoubtKind, str]
    keep_anyway: str
    add: str
    add_first: str
    name: str
    tyre: str
    tyre_example: str
    frame: str
    pedals: str
    standover_measured: str
    saddle_lowest: str
    saddle_highest: str
    saddle_note: str
    add_it: str
    take_out: str
    taken_out: str
    take_it_out: str
    correct: str
    bicycle: str
    column: str
    value: str
    change: str
    upload: str
    upload_new: str
    uploader: str
    put: str
    replace: str
    not_utf8: str
    fault: str
    list_title: str
    table: tuple[str, str, str, str]
    sources: Mapping[StandoverSource, str]
    in_stock: tuple[str, str]
    download: str
    changes: str
    changes_table: tuple[str, str, str]
    change_added: str
    change_gone: str
    change_changed: str
    change_nothing: str
    change_measured: str
    change_value: str
    and_more: str
    value_unknown: str
    yes_no: tuple[str, str]
    frames: Mapping[Frame, str]
    fields: Mapping[str, str]


STOCK: Final[Mapping[Language, StockTexts]] = {
    "en": StockTexts(
        none="There is no list of your bicycles yet. Until there is, families see a demo shop’s.",
        count="**Bicycles: {count}.** Families see them as the shop’s.",
        measure="**A bicycle was measured here**",
        measure_how="With a tape, from the floor to the top of the top tube just ahead of the"
        " saddle, tyres inflated. A measured standover is surer than a published one.",
        measured="Bicycle measured",
        standover="Standover",
        keep="Keep the measurement",
        doubt="**Is {length} right?** Measure once more if you are not sure.",
        doubts={
            "catalogue": "The list says {known}.",
            "wheel": "With this wheel it is usually between {low} and {high}.",
            "saddle": "The saddle at its lowest is {high} high. The top tube cannot be higher.",
            "bottom_bracket": "The pedals turn {low} above the floor. The frame cannot be lower.",
            "neighbours": "With the other bicycles of this wheel size, {low} to {high} is usual.",
        },
        keep_anyway="It is right: keep it",
        add="**Add a bicycle**",
        add_first="**Add your first bicycle**",
        name="Name, with its size",
        tyre="Marking on the tyre",
        tyre_example="for example 47-406 or 20 x 1.75",
        frame="Frame",
        pedals="It has pedals",
        standover_measured="Standover, measured",
        saddle_lowest="Saddle at its lowest",
        saddle_highest="Saddle at its limit mark",
        saddle_note="With both saddle heights the bicycle can be judged too small as well.",
        add_it="Add it",
        take_out="**Take a bicycle out**",
        taken_out="Bicycle to take out",
        take_it_out="Take it out",
        correct="**Correct one value**",
        bicycle="Bicycle",
        column="Column",
        value="New value",
        change="Change it",
        upload="**Upload another list**",
        upload_new="**Upload your list**",
        uploader="List of your bicycles (CSV)",
        put="Use this list",
        replace="Put it in place of the present list",
        not_utf8="The file is not UTF-8 text. Save the table as “CSV UTF-8”.",
        fault="**The list cannot be used yet.**",
        list_title="The list",
        table=("Bicycle", "Standover", "How it is known", "In stock"),
        sources={
            "measured": "measured here",
            "published": "maker’s figure",
            "unknown": "not known",
        },
        in_stock=("yes", "no"),
        download="Download the list",
        changes="What changed",
        changes_table=("When", "Who", "What"),
        change_added="{count} new: {names}",
        change_gone="{count} gone: {names}",
        change_changed="{count} changed: {names}",
        change_nothing="nothing changed",
        change_measured="measured: {name}, standover {length}",
        change_value="{field} {before} to {after}",
        and_more="and {count} more",
        value_unknown="not known",
        yes_no=("yes", "no"),
        frames={
            "level": "level top tube",
            "sloping": "sloping top tube",
            "step_through": "step-through",
            "unknown": "not known",
        },
        fields={
            "name": "name",
            "tyre": "tyre",
            "standover_mm": "standover",
            "standover_source": "standover known by",
            "frame": "frame",
            "pedals": "pedals",
            "top_tube_slope_rad": "slope of the top tube",
            "saddle_min_mm": "lowest saddle",
            "saddle_max_mm": "highest saddle",
            "crank_mm": "crank",
            "bottom_bracket_height_mm": "height of the bottom bracket",
            "seat_tube_angle_rad": "angle of the seat tube",
            "handlebar_reach_mm": "reach to the handlebar",
            "handlebar_height_mm": "height of the handlebar",
            "wheelbase_mm": "wheelbase",
            "chainstay_mm": "chainstay",
            "front_centre_mm": "front centre",
            "price": "price",
            "in_stock": "in stock",
        },
    ),
    "es": StockTexts(
        none="Todavía no hay una lista de sus bicicletas. Mientras tanto las familias ven las de una"
        " tienda de muestra.",
        count="**Bicicletas: {count}.** Las familias las ven como las de la tienda.",
        measure="**Aquí se midió una bicicleta**",
        measure_how="Con cinta, del suelo a la parte alta del tubo superior, justo delante del"
        " sillín, con los neumáticos inflados. Una altura medida es más segura que una publicada.",
        measured="Bicicleta medida",
        standover="Altura del tubo",
        keep="Guardar la medida",
        doubt="**¿Es correcto {length}?** Mida otra vez si no está seguro.",
        doubts={
            "catalogue": "La lista dice {known}.",
            "wheel": "Con esta rueda suele estar entre {low} y {high}.",
            "saddle": "El sillín en lo más bajo está a {high}. El tubo superior no puede estar más"
            " alto.",
            "bottom_bracket": "Los pedales giran a {low} del suelo. El cuadro no puede estar más bajo.",
            "neighbours": "Por las otras bicicletas de esta rueda, lo usual es de {low} a {high}.",
        },
        keep_anyway="Es correcto: guardarlo",
        add="**Añadir una bicicleta**",
        add_first="**Añadir su primera bicicleta**",
        name="Nombre, con su talla",
        tyre="Marca del neumático",
        tyre_example="por ejemplo 47-406 o 20 x 1.75",
        frame="Cuadro",
        pedals="Tiene pedales",
        standover_measured="Altura del tubo, medida",
        saddle_lowest="Sillín en lo más bajo",
        saddle_highest="Sillín en su marca de límite",
        saddle_note="Con las dos alturas del sillín se ve también si la bicicleta es pequeña.",
        add_it="Añadirla",
        take_out="**Quitar una bicicleta**",
        taken_out="Bicicleta que se quita",
        take_it_out="Quitarla",
        correct="**Corregir un valor**",
        bicycle="Bicicleta",
        column="Columna",
        value="Valor nuevo",
        change="Cambiarlo",
        upload="**Subir otra lista**",
        upload_new="**Subir su lista**",
        uploader="Lista de sus bicicletas (CSV)",
        put="Usar esta lista",
        replace="Ponerla en lugar de la actual",
        not_utf8="El archivo no es texto UTF-8. Guarde la tabla como «CSV UTF-8».",
        fault="**La lista todavía no se puede usar.**",
        list_title="La lista",
        table=("Bicicleta", "Altura del tubo", "Cómo se sabe", "En tienda"),
        sources={
            "measured": "medida aquí",
            "published": "dato del fabricante",
            "unknown": "no se sabe",
        },
        in_stock=("sí", "no"),
        download="Descargar la lista",
        changes="Qué cambió",
        changes_table=("Cuándo", "Quién", "Qué"),
        change_added="{count} nuevas: {names}",
        change_gone="{count} fuera: {names}",
        change_changed="{count} cambiadas: {names}",
        change_nothing="nada cambió",
        change_measured="medida: {name}, altura del tubo {length}",
        change_value="{field}: {before} → {after}",
        and_more="y {count} más",
        value_unknown="no se sabe",
        yes_no=("sí", "no"),
        frames={
            "level": "tubo horizontal",
            "sloping": "tubo inclinado",
            "step_through": "cuadro bajo",
            "unknown": "no se sabe",
        },
        fields={
            "name": "nombre",
            "tyre": "neumático",
            "standover_mm": "altura del tubo",
            "standover_source": "cómo se sabe la altura",
            "frame": "cuadro",
            "pedals": "pedales",
            "top_tube_slope_rad": "inclinación del tubo superior",
            "saddle_min_mm": "sillín más bajo",
            "saddle_max_mm": "sillín más alto",
            "crank_mm": "biela",
            "bottom_bracket_height_mm": "altura del pedalier",
            "seat_tube_angle_rad": "ángulo del tubo del sillín",
            "handlebar_reach_mm": "alcance al manillar",
            "handlebar_height_mm": "altura del manillar",
            "wheelbase_mm": "distancia entre ejes",
            "chainstay_mm": "vaina",
            "front_centre_mm": "centro delantero",
            "price": "precio",
            "in_stock": "en tienda",
        },
    ),
}
