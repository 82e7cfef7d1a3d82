"""The text that asks a family for another photo, ready to send."""

from typing import Final

from pose_fit.casebook.case import Case
from pose_fit.inseam.inseam import Inseam

__all__ = ["photo_request"]

_HOW: Final = (
    "Barefoot or in thin socks, in close-fitting legwear, facing the camera.",
    "Back against the wall, both heels touching it, feet a hand apart, legs straight.",
    "The printed sheet or the other object of known size flat on the same wall, beside the knees.",
    "Phone level at the height of the child’s hips, 2 to 3 m (7 to 10 ft) away, in good light.",
    "Head to feet in the picture. Please send the original file, not one from a messenger.",
)


def photo_request(case: Case) -> str:
    """What to change for this case, how to take the photo, the tape instead, and the reply code."""
    estimate = case.content.estimate
    if isinstance(estimate, Inseam):
        why = "The photo you sent gives a first reading, but a better one would make us surer."
        advice = estimate.retake
    else:
        why = f"We could not measure the photo you sent. {estimate}"
        advice = estimate.remedies
    parts = ["Hello,", why]
    if advice:
        parts.append("What would help most:\n" + _listed(advice))
    parts.append("How to take it:\n" + _listed(_HOW))
    parts.append(
        "No luck with a photo? A tape is as good: the child stands barefoot against a wall, a book"
        " between the legs pulled up firmly; measure from the floor to the top of the book, twice."
    )
    parts.append(f"Please quote the code {case.reply_code} when you send it. Thank you!")
    return "\n\n".join(parts)


def _listed(lines: tuple[str, ...]) -> str:
    return "\n".join(f"- {line}" for line in lines)
