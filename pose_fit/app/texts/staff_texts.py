"""Texts of the shop's pages around a case: signing in, the lists, accounts."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.app.texts.language import Language
from pose_fit.casebook.case import CaseState

__all__ = ["ACCOUNTS", "LISTS", "STAFF", "AccountTexts", "ListTexts", "StaffPart", "StaffTexts"]

StaffPart = Literal["waiting", "find", "pairs", "stock", "accounts"]


@dataclass(frozen=True, slots=True)
class StaffTexts:
    """The frame of every page, and signing in."""

    title: str
    signed_in: str
    sign_out: str
    part: str
    parts: Mapping[StaffPart, str]
    name: str
    passphrase: str
    sign_in: str
    sign_in_with_shop: str
    not_on_list: str
    idle: str
    no_account: str
    setup_code: str
    your_name: str
    passphrase_new: str
    make_account: str
    wrong_code: str
    today: str
    yesterday: str
    moment: str
    world_time: str


STAFF: Final[Mapping[Language, StaffTexts]] = {
    "en": StaffTexts(
        title="Case book",
        signed_in="Signed in as **{name}**",
        sign_out="Sign out",
        part="Part of the book",
        parts={
            "waiting": "Waiting",
            "find": "Find",
            "pairs": "Photo and tape",
            "stock": "Bicycles",
            "accounts": "Accounts",
        },
        name="Name",
        passphrase="Passphrase",
        sign_in="Sign in",
        sign_in_with_shop="Sign in with the shop’s account",
        not_on_list="Your account is not on the staff list of this case book.",
        idle="You were signed out after half an hour without a touch.",
        no_account="Nobody can sign in yet. The terminal in which the app runs shows a setup code;"
        " with it you make the first account.",
        setup_code="Setup code",
        your_name="Your name",
        passphrase_new="Passphrase, at least {least} characters",
        make_account="Make the account",
        wrong_code="That is not the setup code.",
        today="today at {time}",
        yesterday="yesterday at {time}",
        moment="{day} at {time}",
        world_time="{moment}, world time (UTC)",
    ),
    "es": StaffTexts(
        title="Libro de casos",
        signed_in="Ha entrado como **{name}**",
        sign_out="Salir",
        part="Parte del libro",
        parts={
            "waiting": "En espera",
            "find": "Buscar",
            "pairs": "Foto y cinta",
            "stock": "Bicicletas",
            "accounts": "Cuentas",
        },
        name="Nombre",
        passphrase="Contraseña",
        sign_in="Entrar",
        sign_in_with_shop="Entrar con la cuenta de la tienda",
        not_on_list="Su cuenta no está en la lista de personal de este libro.",
        idle="Se cerró su sesión tras media hora sin usarla.",
        no_account="Todavía no puede entrar nadie. La terminal en la que corre la aplicación muestra"
        " un código; con él se crea la primera cuenta.",
        setup_code="Código de la terminal",
        your_name="Su nombre",
        passphrase_new="Contraseña, al menos {least} caracteres",
        make_account="Crear la cuenta",
        wrong_code="Ese no es el código de la terminal.",
        today="hoy a las {time}",
        yesterday="ayer a las {time}",
        moment="el {day} a las {time}",
        world_time="{moment}, hora universal (UTC)",
    ),
}


@dataclass(frozen=True, slots=True)
class ListTexts:
    """Cases that wait, and finding one."""

    waiting: str
    nothing: str
    first: str
    row: str
    not_measured: str
    case: str
    labelled: str
    states: Mapping[CaseState, str]
    words: str
    state: str
    since: str
    until: str
    found: str
    first_found: str
    prepare: str
    download: str


LISTS: Final[Mapping[Language, ListTexts]] = {
    "en": ListTexts(
        waiting="**{count}** waiting, longest first",
        nothing="Nobody is waiting.",
        first="The first {count} are shown.",
        row="{estimate}. Sent {moment}.",
        not_measured="Not measured",
        case="Case {number}",
        labelled="Case {number}, {label}",
        states={
            "waiting": "Waiting",
            "photo_asked": "Another picture asked for",
            "accepted": "Accepted",
            "overridden": "Answered with another number",
        },
        words="Words in names, notes or reasons",
        state="Where it stands",
        since="Sent from",
        until="Sent until",
        found="**{count}** found, newest first",
        first_found="The first {count} are shown. Narrow the search, or make a table of all.",
        prepare="Prepare a table of all found (CSV)",
        download="Download the table",
    ),
    "es": ListTexts(
        waiting="**{count}** en espera, primero quien más espera",
        nothing="Nadie espera.",
        first="Se muestran los primeros {count}.",
        row="{estimate}. Enviado {moment}.",
        not_measured="Sin medir",
        case="Caso {number}",
        labelled="Caso {number}, {label}",
        states={
            "waiting": "En espera",
            "photo_asked": "Se pidió otra foto",
            "accepted": "Aceptado",
            "overridden": "Respondido con otro número",
        },
        words="Palabras en nombres, notas o motivos",
        state="En qué punto está",
        since="Enviado desde",
        until="Enviado hasta",
        found="**{count}** encontrados, primero el más nuevo",
        first_found="Se muestran los primeros {count}. Afine la búsqueda o haga una tabla de todos.",
        prepare="Preparar una tabla de todos (CSV)",
        download="Descargar la tabla",
    ),
}


@dataclass(frozen=True, slots=True)
class AccountTexts:
    """Who may sign in."""

    since: str
    close: str
    another: str
    name: str
    passphrase: str
    add: str
    added: str
    own: str
    present: str
    new: str
    change: str
    changed: str


ACCOUNTS: Final[Mapping[Language, AccountTexts]] = {
    "en": AccountTexts(
        since="**{name}**, since {day}",
        close="Close this account",
        another="**Another member of staff**",
        name="Name, or e-mail address for the shop’s own sign-in",
        passphrase="First passphrase, at least {least} characters",
        add="Add",
        added="{name} can sign in now.",
        own="**Your own passphrase**",
        present="Present one",
        new="New one",
        change="Change",
        changed="Your passphrase is changed.",
    ),
    "es": AccountTexts(
        since="**{name}**, desde el {day}",
        close="Cerrar esta cuenta",
        another="**Otra persona del personal**",
        name="Nombre, o correo para la entrada propia de la tienda",
        passphrase="Primera contraseña, al menos {least} caracteres",
        add="Añadir",
        added="{name} ya puede entrar.",
        own="**Su propia contraseña**",
        present="La actual",
        new="La nueva",
        change="Cambiar",
        changed="Su contraseña ha cambiado.",
    ),
}
