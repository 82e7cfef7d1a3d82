"""Our dataclasses as JSON for the database, and back, each union told apart by a stable name.

The names in this module are written into every case book: they may be added to, never changed.
"""

import json
from typing import Any, Final

from cattrs import BaseValidationError
from cattrs.preconf.json import make_converter
from cattrs.strategies import configure_tagged_union

from pose_fit.bicycle.catalogue_edit import CatalogueChange, StandoverMeasured, Value
from pose_fit.casebook.case import CaseContent, Estimate
from pose_fit.casebook.clue import (
    Clue,
    LiftClue,
    RemarkClue,
    StatedClue,
    TapeClue,
    TrousersClue,
)
from pose_fit.casebook.decision import Accepted, Overridden, PhotoAsked, Verdict
from pose_fit.casebook.events import (
    Action,
    ChildJoined,
    ClueAdded,
    DetailsCorrected,
    Exported,
    Happening,
    LandmarksAdjusted,
    PhotoReceived,
    PictureRemoved,
    Received,
    Reopened,
    TapeTaken,
)
from pose_fit.errors import CaseBookError, PoseFitError
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask

__all__ = [
    "KIND_NAMES",
    "action_from",
    "change_from",
    "change_text",
    "content_from",
    "happening_from",
    "kind_of",
    "plain",
]

#: Name in the database of each member of a union.
KIND_NAMES: Final[dict[type, str]] = {
    Inseam: "inseam",
    Refusal: "refusal",
    TapeClue: "tape",
    TrousersClue: "trousers",
    LiftClue: "lift",
    StatedClue: "stated",
    RemarkClue: "remark",
    Received: "received",
    PhotoReceived: "photo_received",
    Exported: "exported",
    LandmarksAdjusted: "landmarks_adjusted",
    ClueAdded: "clue_added",
    DetailsCorrected: "details_corrected",
    Accepted: "accepted",
    PhotoAsked: "photo_asked",
    Overridden: "overridden",
    Reopened: "reopened",
    TapeTaken: "tape_taken",
    ChildJoined: "child_joined",
    PictureRemoved: "picture_removed",
    CatalogueChange: "catalogue_change",
    StandoverMeasured: "standover_measured",
}

_ListChange = CatalogueChange | StandoverMeasured

_CONVERTER = make_converter()
# A photo's task has one record everywhere.
_CONVERTER.register_unstructure_hook(PhotoTask, PhotoTask.record)
_CONVERTER.register_structure_hook(PhotoTask, lambda record, _: PhotoTask.from_record(record))
# Cells of a catalogue are told apart by JSON itself.
_CONVERTER.register_structure_hook(Value, lambda value, _: value)
# Inner unions first: the hooks of the outer ones are made from those of the inner.
for _union in (Estimate, Clue, Verdict, Action, Happening, _ListChange):
    configure_tagged_union(
        _union, _CONVERTER, tag_generator=KIND_NAMES.__getitem__, tag_name="kind"
    )


def plain(value: CaseContent | Happening, *, union: Any = None) -> dict[str, Any]:
    """A JSON-friendly record; with ``union`` it carries the name of its kind."""
    record: dict[str, Any] = _CONVERTER.unstructure(value, union or type(value))
    return record


def kind_of(happening: Happening) -> str:
    """The stable name of what happened."""
    return KIND_NAMES[type(happening)]


def content_from(record: object) -> CaseContent:
    """Content of a case from its record.

    Raises
    ------
    CaseBookError
        The record is none of ours.
    """
    content: CaseContent = _read(record, CaseContent)
    return content


def happening_from(record: object) -> Happening:
    """What happened, from its record; raises as :func:`content_from`."""
    happening: Happening = _read(record, Happening)
    return happening


def action_from(record: object) -> Action:
    """What somebody meant to do, from its record; raises as :func:`content_from`."""
    action: Action = _read(record, Action)
    return action


def change_text(change: CatalogueChange | StandoverMeasured) -> str:
    """What changed in the shop's list as JSON, so that it can be told in any language."""
    return json.dumps(_CONVERTER.unstructure(change, _ListChange), ensure_ascii=False)


def change_from(told: str) -> CatalogueChange | StandoverMeasured | str:
    """What changed, from its JSON; the words as they stand where an earlier version wrote words."""
    if not told.startswith("{"):
        return told
    change: CatalogueChange | StandoverMeasured = _read(json.loads(told), _ListChange)
    return change


def _read(record: object, kind: Any) -> Any:
    try:
        return _CONVERTER.structure(record, kind)
    except (BaseValidationError, PoseFitError, KeyError, TypeError, ValueError) as fault:
        raise CaseBookError(f"a record of the case book cannot be read ({fault})") from fault
