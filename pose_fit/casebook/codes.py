"""Codes that people read out and type: reply codes of cases, and codes of children."""

import secrets
from typing import Final

from pose_fit.errors import CaseBookError

__all__ = ["new_code", "shown_code", "typed_code", "whole_code"]

#: Letters and digits that are not mistaken for each other (Crockford's base 32), twice four:
#: 40 bits, too many to guess one by one.
_LETTERS: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_LENGTH: Final = 8
#: What Crockford's alphabet leaves out because it is read as something else.
_MISREAD: Final = str.maketrans("OIL", "011")


def new_code() -> str:
    """A code as it is stored; cannot be guessed."""
    return "".join(secrets.choice(_LETTERS) for _ in range(_LENGTH))


def shown_code(code: str) -> str:
    """A stored code as people read it: ``AB12-CD34``."""
    return f"{code[:4]}-{code[4:]}" if code else ""


def typed_code(text: str) -> str:
    """A code as it is stored, from what somebody typed."""
    upper = text.upper().translate(_MISREAD)
    return "".join(letter for letter in upper if letter in _LETTERS)


def whole_code(text: str) -> str:
    """As :func:`typed_code`, and a whole one, or none at all.

    Raises
    ------
    CaseBookError
        Too few or too many letters.
    """
    code = typed_code(text)
    if code and len(code) != _LENGTH:
        raise CaseBookError(f"code: wanted {_LENGTH} letters and digits, found {text.strip()!r}")
    return code
