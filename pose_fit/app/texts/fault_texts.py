"""Faults of files, lists of bicycles, markings and codes in Spanish, by the library's sentence.

Each sentence is written as the library has it, with a name for each thing that it fills in. A test
holds the table to the faults that the library finds.
"""

import re
from collections.abc import Mapping
from string import Formatter
from typing import Final

__all__ = ["fault_es"]

_SIZES: Final = "wanted a marking such as {examples}"
_SIZES_ES: Final = "escriba por ejemplo 24 x 2.0, 24 x 1 3/8, 47-507, 700x35C o 12 1/2 x 2 1/4"

#: The more closely told first: a later one may fit too.
_FAULTS_ES: Final[Mapping[str, str]] = {
    # Around what is wrong
    "{place}, line {line}, column {column}: {fault}": "{place}, línea {line}, columna {column}: {fault}",
    "{place}, line {line}: {fault}": "{place}, línea {line}: {fault}",
    "and {count} more faults": "y {count} errores más",
    "{fault}; is it in another unit? Then call the column {name}": "{fault}; ¿está en otra unidad? Entonces"
    " llame a la columna {name}",
    "{fault}, typed {cell}": "{fault} (escrito {cell})",
    # The table
    "{place}: is empty; wanted a header line and one line for each {what}": "{place}: está vacía; hace falta"
    " una línea de encabezado y una línea por bicicleta",
    "{place}: holds no {what}; wanted one line for each below the header": "{place}: no tiene ninguna"
    " bicicleta; ponga una por línea debajo del encabezado",
    "is not CSV ({reason})": "no es un archivo CSV",
    "wanted {count} cells as in the header, found {found}; {reason}": "el encabezado tiene {count} celdas"
    " y esta línea {found}; con coma decimal, separe las celdas con punto y coma",
    "found column {found}; did you mean {wanted}?": "hay una columna {found}; ¿quiso decir {wanted}?",
    "wanted one column for {name}, found {first} and {second}; keep one, where a cell may have a unit of"
    " its own, such as {example}": "hay dos columnas para {name}: {first} y {second}; deje una, en la que"
    " una celda puede llevar su unidad, como {example}",
    "wanted a column {wanted}, found {found}": "falta una columna {wanted}; hay {found}",
    # A cell
    "wanted a value, found an empty cell; fill it in, or leave the line out": "la celda está vacía y hace"
    " falta un valor; escríbalo, o quite la línea",
    "wanted a number, found {found}": "debe ser un número, y pone {found}",
    "wanted a length in {unit}, found {found}": "debe ser una longitud en {unit}, y pone {found}",
    "wanted yes, no or a count, found {found}": "debe ser yes, no o un número, y pone {found}",
    "wanted each name once, found {found} also in line {line}; add the size or colour to one, or leave it"
    " out": "el nombre {found} ya está en la línea {line}; añada la talla o el color a uno, o quítelo",
    "wanted one of {wanted}, found {found}": "debe ser uno de {wanted}, y pone {found}",
    "wanted a name, found none": "falta el nombre",
    "wanted a name without control characters, found {found}": "el nombre {found} lleva caracteres de"
    " control; escríbalo sin ellos",
    "wanted none on a bicycle without pedals, found {found}": "una bicicleta sin pedales no tiene"
    " biela, y pone {found}",
    "wanted at most {name}, {limit}, found {found}": "no puede ser más que {name}, {limit}, y pone"
    " {found}",
    "wanted {low} to {high}, found {found}": "debe estar entre {low} y {high}, y pone {found}",
    "wanted a bicycle of the catalogue, found {found}": "en la lista no hay ninguna bicicleta {found}",
    "wanted a bicycle, found {found}, which the inseam does not size; leave it out of this list": "pone"
    " {found}, cuya talla no depende de la entrepierna; quítelo de esta lista",
    "wanted a bicycle, found {found}, and the inseam does not size a {kind}; leave it out, or say bicycle"
    " in a column kind": "{found} parece {kind}, cuya talla no depende de la entrepierna; quítelo, o ponga"
    " bicycle en una columna kind",
    "wanted no on a balance bicycle, found yes": "una bicicleta sin pedales lleva no, y pone yes",
    # A tyre's marking
    f"{{found}} is not a tyre size; {_SIZES}": f"{{found}} no es una medida de neumático; {_SIZES_ES}",
    f"{{found}} is not a tyre size in the tables; {_SIZES}": "{found} no está en las tablas de neumáticos;"
    f" {_SIZES_ES}",
    f"{{found}} names no width; {_SIZES}": f"a {{found}} le falta la anchura; {_SIZES_ES}",
    "{found}: a tyre is between 15 and 130 mm wide, found {low} to {high} mm": "{found}: un neumático"
    " tiene entre 15 y 130 mm de ancho, no de {low} a {high} mm",
    "{found}: bead seat {seat} mm is not one of the known {known}": "{found}: el diámetro de llanta"
    " {seat} mm no se conoce; hay {known}",
    "{found} contradicts itself: the code says bead seat {code} mm, the name {name} mm": "{found} se"
    " contradice: el código dice una llanta de {code} mm y el nombre de {name} mm",
    "There is a bicycle {name} already.": "Ya hay una bicicleta {name}.",
    # A picture or a clip
    "{file}: wanted a picture, found an empty file": "{file}: el archivo está vacío",
    "{file}: not a picture this program reads; {wanted}": "{file}: no es una foto que se pueda leer;"
    " envíela como JPEG, PNG o HEIC",
    "{file}: the picture is damaged ({reason})": "{file}: la foto está dañada; elíjala o envíela otra vez",
    "{file}: the clip is damaged, no picture in it can be read": "{file}: el vídeo está dañado",
    "{file}: the clip is damaged": "{file}: el vídeo está dañado",
    "{file}: is not a clip; wanted MP4, MOV or WebM": "{file}: no es un vídeo; envíelo como MP4, MOV o WebM",
    "{file}: wanted a clip of at most {most} seconds, found {found}": "{file}: el vídeo dura {found}"
    " segundos y puede durar {most} como mucho",
    "{file}: wanted at most {most} megapixels a frame": "{file}: el vídeo es demasiado grande",
    "{file}: wanted at most {most} megapixels, found {found}": "{file}: la foto es demasiado grande;"
    " puede tener {most} megapíxeles como mucho",
    "{file}: wanted at most {most} megabytes, found {found}": "{file}: el archivo ocupa {found} MB y puede"
    " ocupar {most} como mucho",
    "{file}: wanted at least {least} pixels a side, found {found}": "{file}: la foto es demasiado pequeña",
    "{file}: wanted a picture at most {most} times as long as wide, found {found}": "{file}: la foto es"
    " demasiado larga y estrecha",
    # Codes of cases
    "No case has this reply code. Check its letters and digits.": "Ningún caso tiene este código. Compruebe"
    " sus letras y cifras.",
    "code: wanted {count} letters and digits, found {found}": "El código tiene {count} letras y cifras;"
    " usted escribió {found}.",
    "there is no case {number}, or it was deleted": "No hay ningún caso {number}, o se borró.",
    # What staff type
    "{what}: wanted some text, found none": "Falta un texto.",
    "{what}: wanted at most {most} characters, found {found}": "El texto puede tener {most} caracteres"
    " como mucho, y tiene {found}.",
    "passphrase: wanted {least} to {most} characters, found {found}": "La contraseña debe tener de {least}"
    " a {most} caracteres, y tiene {found}.",
    "passphrase: wanted something else than the name": "La contraseña no puede ser el nombre.",
    "staff: there is an account {name} already": "Ya hay una cuenta {name}.",
}


def _pattern(sentence: str) -> re.Pattern[str]:
    parts = [
        re.escape(fixed) + (f"(?P<{name}>.+?)" if name else "")
        for fixed, name, *_ in Formatter().parse(sentence)
    ]
    return re.compile("".join(parts), re.DOTALL)


_PATTERNS: Final = [(_pattern(sentence), said) for sentence, said in _FAULTS_ES.items()]


def fault_es(text: str) -> str | None:
    """Each line of a fault in Spanish; None where one of them is not known."""
    lines = [_line_es(line) for line in text.splitlines()]
    return None if None in lines else "\n".join(filter(None, lines))


def _line_es(line: str) -> str | None:
    for pattern, said in _PATTERNS:
        found = pattern.fullmatch(line)
        if found is None:
            continue
        told = found.groupdict()
        if "fault" in told:
            told["fault"] = _line_es(told["fault"])
            if told["fault"] is None:
                continue
        return said.format_map({name: _listed(value) for name, value in told.items()})
    return None


def _listed(value: str) -> str:
    """“Or” between names of columns."""
    return value.replace("' or '", "' o '")
