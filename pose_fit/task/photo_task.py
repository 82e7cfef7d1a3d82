"""What is asked of one photo: one frozen record for command line, batch, app and case book."""

from dataclasses import dataclass, field
from typing import Any, Final

from cattrs import BaseValidationError
from cattrs.preconf.json import make_converter

from pose_fit.anthropometry.child import Child
from pose_fit.errors import InputError, PoseFitError
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.stated import NOTHING_STATED, Stated

__all__ = ["PhotoTask"]

_CONVERTER: Final = make_converter(omit_if_default=True)
_UNKNOWN_CHILD: Final = Child()


@dataclass(frozen=True, slots=True)
class PhotoTask:
    """The object of known size, what is stated of the photo, and what is known of the child.

    The child is as it was on the day of the photo.

    Attributes
    ----------
    use_child
        Body height, or else age, joins the photo's readings as one of its own. Without it they
        only tell whether the result is plausible.
    """

    reference: ReferenceRequest = field(default_factory=ReferenceRequest)
    stated: Stated = NOTHING_STATED
    child: Child = _UNKNOWN_CHILD
    use_child: bool = True

    def record(self) -> dict[str, Any]:
        """Plain values for JSON; what nobody stated is left out."""
        plain: dict[str, Any] = _CONVERTER.unstructure(self)
        return plain

    @classmethod
    def from_record(cls, record: object) -> "PhotoTask":
        """The task that :meth:`record` wrote.

        Raises
        ------
        InputError
            The record is none of ours, or holds a value that no photo can have.
        """
        try:
            return _CONVERTER.structure(record, cls)
        except (BaseValidationError, PoseFitError, KeyError, TypeError, ValueError) as fault:
            raise InputError(f"wanted the record of a photo's task, found {record!r}") from fault
