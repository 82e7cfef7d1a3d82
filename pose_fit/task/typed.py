"""What was typed of a photo becomes its task; each error names the fact that is wrong."""

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, Final

from pose_fit.anthropometry.child import Child
from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.errors import InputError, ReferenceObjectError
from pose_fit.reference.request import REFERENCE_KINDS, ReferenceRequest
from pose_fit.task.facts import (
    CHILD,
    READING,
    REFERENCE,
    STATED,
    Fact,
    FactError,
    no_unit_hint,
    read_length_mm,
)
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["child_of", "overridden", "task_of"]

_TYRE_CODE: Final = re.compile(r"\d{2,3}-\d{3}")


def task_of(typed: Mapping[str, str]) -> PhotoTask:
    """The task of a photo, from the texts by the names of their facts.

    Raises
    ------
    FactError
        A text that cannot be read, a value that no photo or child has, or a reference whose
        parts do not go together.
    """
    (use_child,) = READING
    return PhotoTask(
        _request_of(typed),
        Stated(**_values(typed, STATED, Stated)),
        child_of(typed),
        use_child.read(typed.get(use_child.name, "yes")) == "yes",
    )


def child_of(typed: Mapping[str, str]) -> Child:
    """What is stated of the child.

    Raises
    ------
    FactError
        An age, sex or stature that cannot be read or that no child has.
    """
    return Child(**_values(typed, CHILD, Child))


def overridden(common: Mapping[str, str], own: Mapping[str, str]) -> dict[str, str]:
    """What is stated of all photos with what is stated of one in its place.

    One with another reference keeps nothing of the common one: its size, points, placement and
    ruler are its own.
    """
    kept = dict(common)
    if own.get("reference", common.get("reference")) != common.get("reference"):
        for fact in REFERENCE:
            kept.pop(fact.name, None)
    return kept | dict(own)


def _values(
    typed: Mapping[str, str], facts: Sequence[Fact], record: type[Child | Stated]
) -> dict[str, Any]:
    """The fields of a record, each checked by the record alone so that the fault has a name."""
    values: dict[str, Any] = {}
    for fact in facts:
        if fact.name not in typed:
            continue
        value = fact.read(typed[fact.name])
        values[fact.field] = value == "yes" if fact.kind == "flag" else value
        bare = typed[fact.name] if fact.kind == "length" else ""
        with _about(fact.name, bare=bare):
            record(**{fact.field: values[fact.field]})
    return values


def _request_of(typed: Mapping[str, str]) -> ReferenceRequest:
    values: dict[str, Any] = {
        fact.field: fact.read(typed[fact.name]) for fact in REFERENCE if fact.name in typed
    }
    # What nobody named is looked for; only a tyre has a code.
    is_code = _TYRE_CODE.fullmatch(str(values.get("size_mm", ""))) is not None
    kind = values.setdefault("kind", "wheel" if is_code else "auto")
    if kind == "auto" and "size_mm" in values:
        raise FactError(
            "size", "wanted the object that has this size (door, wheel or length), found none named"
        )
    if kind not in REFERENCE_KINDS:
        raise FactError(
            "reference", f"unknown reference {kind!r}; wanted one of {', '.join(REFERENCE_KINDS)}"
        )
    if "size_mm" in values:
        with _about("size"):
            values |= _size(kind, values["size_mm"])
    try:
        return ReferenceRequest(**values)
    except ReferenceObjectError as fault:
        hint = no_unit_hint(typed.get(fault.about))
        raise FactError(fault.about, f"{fault}{hint}") from fault


def _size(kind: str, text: str) -> dict[str, float]:
    """Diameter, its uncertainty and width of a wheel from the code on its tyre; of other objects a length."""
    if kind != "wheel":
        return {"size_mm": read_length_mm(text)}
    tyre = read_marking(text)
    if not isinstance(tyre, Tyre):
        raise InputError(f"wheel: {tyre}; give the code with the hyphen, such as 47-406")
    return {
        "size_mm": tyre.outside_diameter_mm,
        "width_mm": tyre.width_mm,
        "size_sd_mm": tyre.outside_diameter_sd_mm,
    }


@contextmanager
def _about(fact: str, *, bare: str = "") -> Iterator[None]:
    """Whatever is wrong in the block is wrong with this fact, and perhaps with its missing unit."""
    try:
        yield
    except InputError as fault:
        raise FactError(fact, f"{fault}{no_unit_hint(bare)}") from fault
