"""What changed in the shop's list, in the reader's language and unit."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.stock_texts import STOCK
from pose_fit.bicycle.catalogue_edit import (
    BicycleChange,
    CatalogueChange,
    StandoverMeasured,
    Value,
)

__all__ = ["change_words"]


def change_words(change: CatalogueChange | StandoverMeasured | str) -> str:
    """One change in a sentence; words of an earlier version as they stand."""
    say = in_language(STOCK)
    match change:
        case StandoverMeasured(name, standover_mm):
            return say.change_measured.format(name=name, length=length_text(standover_mm))
        case CatalogueChange():
            changed = [_of_bicycle(one) for one in change.changed]
            parts = (
                (say.change_added, change.added.count, change.added.first),
                (say.change_gone, change.gone.count, change.gone.first),
                (say.change_changed, change.changed_count, changed),
            )
            told = [_counted(words, count, names) for words, count, names in parts if count]
            return "; ".join(told) or say.change_nothing
        case str():
            return change


def _counted(words: str, count: int, names: Sequence[str]) -> str:
    more = count - len(names)
    rest = " " + in_language(STOCK).and_more.format(count=more) if more else ""
    return words.format(count=count, names=", ".join(names) + rest)


def _of_bicycle(change: BicycleChange) -> str:
    say = in_language(STOCK)
    values = (
        say.change_value.format(
            field=say.fields.get(one.field, one.field),
            before=_value_text(one.field, one.before),
            after=_value_text(one.field, one.after),
        )
        for one in change.values
    )
    return f"{change.name} ({', '.join(values)})"


def _value_text(field: str, value: Value) -> str:
    say = in_language(STOCK)
    match value:
        case None:
            return say.value_unknown
        case bool():
            return say.yes_no[0 if value else 1]
        case str():
            known: dict[str, Mapping[Any, str]] = {
                "standover_source": say.sources,
                "frame": say.frames,
            }
            return known.get(field, {}).get(value, value)
    if field.endswith("_mm"):
        return length_text(value)
    return f"{math.degrees(value):.3g}°" if field.endswith("_rad") else f"{value:g}"
