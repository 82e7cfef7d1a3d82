"""What is asked of the rendered pictures of the third trial, and what an answer may say."""

from typing import Final

from calibration.doubtful.look_alikes.look_alike import LookAlike, MaySay, as_it_is

__all__ = ["STAGED_CASES"]

_NO: Final = "no number"
_WORD: Final = "number with a word"
_RIGHT: Final = "a right number"
#: Name, picture, the most that may be said, and whether the child that is meant is there.
_CASES: Final[tuple[tuple[str, str, MaySay, bool], ...]] = (
    ("kneels on both knees", "kneels", _NO, True),
    ("sits on the floor, legs stretched out", "legs_out", _NO, True),
    ("sits in a wheelchair", "wheelchair", _NO, True),
    ("one foot on a scooter", "scooter", _WORD, True),
    ("astride a balance bicycle", "balance_bike", _NO, True),
    ("on crutches, one leg bent", "crutches", _WORD, True),
    ("hangs from a bar", "hangs_from_bar", _NO, True),
    ("back on the wall, feet far before it", "feet_out", _WORD, True),
    ("statue on a plinth", "statue", _NO, False),
    ("teddy bear", "teddy", _NO, False),
    ("clothes on a hanger", "clothes_alone", _NO, False),
    ("ball gown", "ball_gown", _NO, True),
    ("ballet skirt", "tutu", _NO, True),
    ("bath towel round the neck", "bath_towel", _NO, True),
    ("short swimming trunks", "swim_shorts", _RIGHT, True),
    ("on roller skates", "roller_skates", _NO, True),
    ("costume with a tail", "costume_tail", _WORD, True),
    ("ball held before the lap", "ball_before", _NO, True),
    ("on somebody’s shoulders", "on_shoulders", _NO, False),
    ("face to face with another child", "face_to_face", _NO, False),
    ("three in a row", "three_in_a_row", _WORD, True),
    ("older sister under the younger one’s age", "older_sister", _WORD, True),
    ("dog before the legs", "dog_before", _NO, True),
    ("doll’s pram before the legs", "pram_before", _NO, True),
)
STAGED_CASES: Final[tuple[LookAlike, ...]] = tuple(
    LookAlike(name, picture, as_it_is, may_say=may_say, shows_child=shows_child)
    for name, picture, may_say, shows_child in _CASES
)
