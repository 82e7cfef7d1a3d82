"""Every exception the library raises on purpose.

    PoseFitError
    ├── CaseBookError          the case book cannot do what was asked
    │   └── CaseConflict       somebody else changed the case first (casebook/conflict.py)
    ├── SignInError            not signed in: wrong name or passphrase, or too many failures
    ├── WorkStoppedError       the process that does the work ended, also when it tried again
    └── InputError             what the caller gave cannot be used
        ├── BatchError         list of photos or table of a batch with a fault; names the place
        ├── LengthError        text or number that is not a length
        ├── OutputError        the result cannot be written where it should go
        ├── PhotoFileError     file missing, unreadable, or not a picture
        ├── ReferenceObjectError    unknown reference, wrong size, wrong or missing points
        ├── TyreMarkingError   sidewall text that is not a tyre size, or names several
        ├── CatalogueError     bicycle file with a fault; names file, row and column
        └── PersonError        age, sex, stature or clothing outside what is known

A photo that was read but cannot be measured is not an exception: it is a
:class:`pose_fit.refusal.Refusal`, a value the caller has to handle.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

__all__ = [
    "BatchError",
    "CaseBookError",
    "CatalogueError",
    "InputError",
    "LengthError",
    "OutputError",
    "PersonError",
    "PhotoFileError",
    "PoseFitError",
    "ReferenceObjectError",
    "SignInError",
    "TyreMarkingError",
    "WorkStoppedError",
    "printable",
]


class PoseFitError(Exception):
    """Base of all errors raised on purpose; its text can be shown to a user."""


class CaseBookError(PoseFitError):
    """The case book cannot be opened, or cannot do what was asked."""


class SignInError(PoseFitError):
    """The sign-in was refused; the text never says whether the name exists."""


class WorkStoppedError(PoseFitError):
    """The process that does the work ended before it was done, and so did the next one."""


class InputError(PoseFitError):
    """What the caller gave cannot be used; the text says what was wanted and found."""


class BatchError(InputError):
    """A list of photos, or a table of results, that cannot be used; the text names the place."""


class LengthError(InputError):
    """Text or number that is not a length."""


class OutputError(InputError):
    """A place that cannot be written: missing, protected, full, or of an unknown kind."""


class PhotoFileError(InputError):
    """A picture file that is missing, unreadable, or no picture."""


class ReferenceObjectError(InputError):
    """A reference object that is unknown, of impossible size, or with unusable points.

    Attributes
    ----------
    about
        What of it is wrong, as a fact of ``task.facts``: ``reference`` (which object it is), ``size``,
        ``points``, ``ruler`` or ``stature``.
    """

    def __init__(self, problem: str, *, about: str = "reference") -> None:
        super().__init__(problem)
        self.about = about


class TyreMarkingError(InputError):
    """A sidewall marking that names no tyre size, or several."""


class CatalogueError(InputError):
    """A bicycle file with a fault; the text names file, row and column."""


class PersonError(InputError):
    """An age, sex, stature or clothing outside what the tables know."""


def printable(path: "str | Path") -> str:
    """A path as text for an error, which a file's name need not be."""
    return str(path).encode("utf-8", "replace").decode()
