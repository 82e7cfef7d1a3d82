"""A body as bytes beside its picture, so that a picture with its face hidden is measured as before.

A pose model finds a body by its head first, and the head is painted over in what is kept.
"""

import io
import zipfile

import numpy as np

from pose_fit.body.body import Body, Bystander
from pose_fit.errors import CaseBookError

__all__ = ["body_from", "bytes_of_body"]

#: Steps of the mask between nothing and the person.
_MASK_STEPS = 255


def bytes_of_body(body: Body) -> bytes:
    """A compressed NumPy archive; the mask in 255 steps, everything else as it is."""
    file = io.BytesIO()
    others = [bystander.points_px for bystander in body.bystanders]
    parts = {
        "passes_px": body.passes_px,
        "visibility": body.visibility,
        "mask": np.round(np.clip(body.mask, 0, 1) * _MASK_STEPS).astype(np.uint8),
    }
    if others:
        parts["bystanders_px"] = np.stack(others)
    if body.world_m is not None:
        parts["world_m"] = body.world_m
    np.savez_compressed(file, **parts)
    return file.getvalue()


def body_from(record: bytes) -> Body:
    """The body back.

    Raises
    ------
    CaseBookError
        The bytes are none of ours.
    """
    try:
        with np.load(io.BytesIO(record), allow_pickle=False) as parts:
            return Body(
                passes_px=parts["passes_px"],
                visibility=parts["visibility"],
                mask=np.asarray(parts["mask"], np.float32) / _MASK_STEPS,
                bystanders=tuple(map(Bystander, parts.get("bystanders_px", ()))),
                world_m=parts.get("world_m"),
            )
    except (KeyError, ValueError, EOFError, OSError, zipfile.BadZipFile) as fault:
        raise CaseBookError(f"a body kept with a picture cannot be read ({fault})") from fault
