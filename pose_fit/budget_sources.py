"""Every line that an uncertainty budget may hold: stable names, each meaning one thing.

Lines of one name in several readings of one child are one and the same error where they are shared.
The name is what a person reads; `app/texts/notice_texts.py` has it in the other languages.
"""

from typing import Final, Literal, get_args

__all__ = ["BUDGET_SOURCES", "BudgetSource"]

BudgetSource = Literal[
    # A photo: the reference and the camera.
    "camera tilt",
    "focal length",
    "lens",
    "reference points",
    "reference shape",
    "reference size",
    "which object it is",
    # A photo: the child as it stands.
    "ankle height",
    "distance from the wall",
    "foot length",
    "hip to crotch",
    "pose landmarks",
    "pose model",
    "posture",
    "raised heels",
    "shoe soles",
    # A photo: crotch and floor as they are seen.
    "book",
    "clothing",
    "crotch click",
    "crotch edge",
    "floor",
    "floor click",
    "which of several readings",
    # What rendered children cannot tell of real ones.
    "from pictures to people",
    # Tape, trousers, lift, and what somebody states.
    "how low the trouser crotch hangs",
    "lift reading",
    "photo, as stated",
    "place on the top tube",
    "riding shoe",
    "seam as measured",
    "standover height",
    "stated uncertainty",
    "tape readings repeat",
    "tape technique (book, posture, shoes)",
    "where the hem ends above the floor",
    # Body height and age.
    "leg length differs between children of one stature",
    "stature as measured",
    "stature differs between children of one age",
    "statures differ between countries",
    "what is known of children's proportions",
    # Several readings, and other days.
    "age or sex not known",
    "children grow unlike each other",
    "disagreement of the readings",
    "growth differs between countries",
    "resolution of the reading",
]
BUDGET_SOURCES: Final[tuple[BudgetSource, ...]] = get_args(BudgetSource)
