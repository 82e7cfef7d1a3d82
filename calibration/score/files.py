"""Per-photo results and truths as files that anyone can read again."""

import csv
import gzip
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from calibration.observe import world_of
from calibration.score.baselines import raw_legs_mm
from calibration.score.groups import distance_mm
from calibration.scored import Refused, Result, Scored, in_scope

__all__ = ["COLUMNS", "photo_row", "write_photos", "write_truths"]

#: Columns of the table of photos, lengths in millimetres.
COLUMNS: Final = (
    "photo",
    "world",
    "in_scope",
    "reference",
    "age_y",
    "sex",
    "legwear",
    "footwear",
    "soles_mm",
    "heel_gap_mm",
    "distance_mm",
    "treatment",
    "true_focal_35mm",
    "true_inseam_mm",
    "true_stature_mm",
    "refused",
    "inseam_mm",
    "sd_mm",
    "error_mm",
    "held95",
    "by_legs_mm",
    "by_crotch_mm",
    "disagreement",
    "hypothesis_weight",
    "raw_legs_mm",
    "largest_source",
    "largest_sd_mm",
)


def write_photos(results: Sequence[Result], path: Path) -> None:
    """One row for each photo, refused ones too."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        table.writeheader()
        table.writerows(photo_row(result) for result in results)


def photo_row(result: Result) -> dict[str, object]:
    """What one photo was and what came of it; empty where nothing did."""
    truth = result.truth
    row: dict[str, object] = dict.fromkeys(COLUMNS, "")
    row |= {
        "photo": truth["photo"],
        "world": world_of(truth),
        "in_scope": in_scope(truth),
        "reference": truth["reference"]["kind"],
        "age_y": truth["age_years"],
        "sex": truth["sex"],
        "legwear": truth["legwear"],
        "footwear": truth["footwear"],
        "soles_mm": truth["soles_mm"],
        "heel_gap_mm": round(truth["heel_gap_mm"], 1),
        "distance_mm": round(distance_mm(truth)),
        "treatment": truth["treatment"],
        "true_focal_35mm": round(truth["camera"]["true_focal_35mm"], 1),
        "true_inseam_mm": truth["inseam_mm"],
        "true_stature_mm": truth["stature_mm"],
    }
    if isinstance(result, Refused):
        return row | {"refused": " ".join(result.codes)}
    return row | _read(result)


def _read(item: Scored) -> dict[str, object]:
    length, reading = item.reading.length, item.reading
    low_mm, high_mm = length.interval95_mm
    legs, crotch = reading.best("legs"), reading.best("crotch")
    return {
        "inseam_mm": round(length.mean_mm, 1),
        "sd_mm": round(length.sd_mm, 1),
        "error_mm": round(item.error_mm, 1),
        "held95": low_mm <= item.true_mm <= high_mm,
        "by_legs_mm": round(legs.value_mm, 1) if legs else "",
        "by_crotch_mm": round(crotch.value_mm, 1) if crotch else "",
        "disagreement": round(reading.disagreement, 2),
        "hypothesis_weight": round(reading.hypotheses[0].weight, 3),
        "raw_legs_mm": round(raw_legs_mm(item), 1),
        "largest_source": length.largest.source,
        "largest_sd_mm": round(length.largest.sd_mm, 1),
    }


def write_truths(truths: Iterable[Mapping[str, Any]], path: Path) -> None:
    """Parameters and truth of every scene, one JSON object a line, gzip; same input, same bytes."""
    text = "".join(json.dumps(truth, separators=(",", ":")) + "\n" for truth in truths)
    packed = io.BytesIO()
    with gzip.GzipFile(fileobj=packed, mode="wb", compresslevel=9, mtime=0) as file:
        file.write(text.encode("utf-8"))
    path.write_bytes(packed.getvalue())
