"""Every exception the library raises on purpose.

    PoseFitError
    └── InputError             what the caller gave cannot be used
        ├── LengthError        text or number that is no length
        ├── PhotoFileError     file missing, unreadable, or not a picture
        ├── ReferenceObjectError    unknown reference, wrong size, wrong or missing points
        ├── TyreMarkingError   sidewall text that is no tyre size, or names several
        ├── CatalogueError     bicycle file with a fault; names file, row and column
        └── PersonError        age, sex, stature or clothing outside what is known

A photo that was read but cannot be measured is no exception: it is a
:class:`pose_fit.refusal.Refusal`, a value the caller has to handle.
"""

__all__ = [
    "CatalogueError",
    "InputError",
    "LengthError",
    "PersonError",
    "PhotoFileError",
    "PoseFitError",
    "ReferenceObjectError",
    "TyreMarkingError",
]


class PoseFitError(Exception):
    """Base of all errors raised on purpose; its text can be shown to a user."""


class InputError(PoseFitError):
    """What the caller gave cannot be used; the text says what was wanted and found."""


class LengthError(InputError):
    """Text or number that is no length."""


class PhotoFileError(InputError):
    """A picture file that is missing, unreadable, or no picture."""


class ReferenceObjectError(InputError):
    """A reference object that is unknown, of impossible size, or with unusable points."""


class TyreMarkingError(InputError):
    """A sidewall marking that names no tyre size, or several."""


class CatalogueError(InputError):
    """A bicycle file with a fault; the text names file, row and column."""


class PersonError(InputError):
    """An age, sex, stature or clothing outside what the tables know."""
