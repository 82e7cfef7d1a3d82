"""The JSON Schema of what ``measure`` and ``advise`` print with ``--json``.

A key may be added; none leaves or changes its meaning within one version.
"""

from collections.abc import Mapping
from typing import Any, Final, get_args

from pose_fit.fit.feet import Feet
from pose_fit.fit.judged import CrampedBy
from pose_fit.fit.shown import SHOWN
from pose_fit.fit.verdicts import VERDICTS
from pose_fit.inseam.inseam import Method
from pose_fit.report.answer import HowSure
from pose_fit.report.json_keys import ANSWER_KEYS, FIT_KEYS, PHOTO_KEYS

__all__ = ["SCHEMA_VERSION", "json_schema"]

#: Goes up when a key leaves or changes its meaning.
SCHEMA_VERSION: Final = 1

_Schema = dict[str, Any]

_TEXT: Final[_Schema] = {"type": "string"}
_NUMBER: Final[_Schema] = {"type": "number"}
_YES_NO: Final[_Schema] = {"type": "boolean"}
_CHANCE: Final[_Schema] = {"type": "number", "minimum": 0, "maximum": 1}
_DAY: Final[_Schema] = {"type": "string", "format": "date"}


def _or_null(holds: _Schema) -> _Schema:
    return {"anyOf": [holds, {"type": "null"}]}


def _one_of(*words: str) -> _Schema:
    return {"enum": list(words)}


def _list(items: _Schema, *, count: int | None = None) -> _Schema:
    bounds: _Schema = {} if count is None else {"minItems": count, "maxItems": count}
    return {"type": "array", "items": items, **bounds}


def _object(keys: Mapping[str, _Schema]) -> _Schema:
    return {
        "type": "object",
        "properties": dict(keys),
        "required": list(keys),
        "additionalProperties": False,
    }


_INTERVAL: Final = _list(_NUMBER, count=2)
_PLACE: Final = _list(_NUMBER, count=2)
_NOTICES: Final = _list(_object({"code": _TEXT, "message": _TEXT}))
_NAME: Final = _or_null(_TEXT)

#: Of every photo, measured or refused.
_PHOTO: Final[dict[str, _Schema]] = {
    "photo": _or_null(_TEXT),
    "status": _one_of("measured", "refused"),
    "inseam_mm": _or_null(_NUMBER),
    "sd_mm": _or_null(_NUMBER),
    "interval95_mm": _or_null(_INTERVAL),
    "method": _or_null(_one_of(*get_args(Method))),
    "budget": _list(_object({"source": _TEXT, "sd_mm": _NUMBER, "shared": _YES_NO})),
    "warnings": _NOTICES,
    "retake": _list(_TEXT),
    "taken_on": _or_null(_DAY),
    "today": _or_null(
        _object({"on": _DAY, "inseam_mm": _NUMBER, "sd_mm": _NUMBER, "interval95_mm": _INTERVAL})
    ),
    "reasons": _NOTICES,
    "reference": _or_null(
        _object(
            {
                "kind": _TEXT,
                "placement": _TEXT,
                "points_px": _list(_PLACE),
                "distance_mm": _NUMBER,
                "focal_px": _NUMBER,
            }
        )
    ),
    "landmarks_px": _or_null({"type": "object", "additionalProperties": _PLACE}),
}
#: With a catalogue.
_ANSWER: Final[dict[str, _Schema]] = {
    "choice": _TEXT,
    "chosen": _object(
        {
            "best": _NAME,
            "runner_up": _NAME,
            "settle_first": _NAME,
            "not_in_stock": _NAME,
            "next_size": _NAME,
            "next_size_from_inseam_mm": _or_null(_NUMBER),
            "wanted_standover_mm": _INTERVAL,
        }
    ),
    "how_sure": _one_of(*get_args(HowSure)),
    "with_stretch": _list(_TEXT),
    "cautions": _list(_TEXT),
}
#: Of each bicycle.
_FIT: Final[dict[str, _Schema]] = {
    "name": _TEXT,
    "tyre": _TEXT,
    "wheel_class_in": _NUMBER,
    "shown": _one_of(*SHOWN),
    "to_do": _TEXT,
    "why": _TEXT,
    "verdict": _one_of(*VERDICTS),
    "recommended": _YES_NO,
    "unsure": _YES_NO,
    "headline": _TEXT,
    "probabilities": _object(dict.fromkeys(VERDICTS, _CHANCE)),
    "standover_mm": _NUMBER,
    "standover_sd_mm": _NUMBER,
    "clearance_mm": _or_null(_NUMBER),
    "clearance_sd_mm": _or_null(_NUMBER),
    "clearance_interval95_mm": _or_null(_INTERVAL),
    "contact_below_inseam_mm": _NUMBER,
    "good_from_inseam_mm": _NUMBER,
    "roomy_from_inseam_mm": _NUMBER,
    "cramped_from_inseam_mm": _or_null(_NUMBER),
    "cramped_by": _one_of(*get_args(CrampedBy)),
    "feet": _or_null(_one_of(*get_args(Feet))),
    "in_stock": _or_null(_YES_NO),
    "reasons": _NOTICES,
    "cautions": _NOTICES,
    "settle_by": _or_null(_TEXT),
    "months": _or_null(
        _object(
            {
                "until_recommended": _or_null(_NUMBER),
                "until_outgrown": _or_null(_NUMBER),
                "outgrown_window80": _list(_or_null(_NUMBER), count=2),
            }
        )
    ),
}


def json_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of one line that ``measure`` and ``advise`` print with ``--json``."""
    fit = _described(_FIT, FIT_KEYS)
    answer = _described(_ANSWER | {"fits": _list(_object(fit))}, ANSWER_KEYS)
    photo = _described(_PHOTO, PHOTO_KEYS)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:pose-fit:answer:{SCHEMA_VERSION}",
        "title": "One photo or child",
        "type": "object",
        "properties": photo | answer,
        "required": list(photo),
        # With a catalogue and an answer, all keys of the answer are there.
        "dependentRequired": {"fits": list(answer)},
        "additionalProperties": False,
    }


def _described(held: Mapping[str, _Schema], meanings: Mapping[str, str]) -> dict[str, _Schema]:
    return {key: {"description": meaning, **held[key]} for key, meaning in meanings.items()}
