"""What the child wears on the legs."""

from typing import Final, Literal, get_args

from pose_fit.errors import InputError

__all__ = ["LEGWEAR", "Legwear", "check_legwear"]

#: Leggings, tights or bare legs; trousers or shorts of ordinary cut; loose ones that hang below
#: the crotch; or a skirt, dress or long top that hides it.
Legwear = Literal["snug", "fitted", "loose", "hidden"]
LEGWEAR: Final[tuple[Legwear, ...]] = get_args(Legwear)


def check_legwear(text: str) -> Legwear:
    """The legwear of this name.

    Raises
    ------
    InputError
        Any other name.
    """
    for name in LEGWEAR:
        if text == name:
            return name
    raise InputError(f"wanted one of {', '.join(LEGWEAR)} as legwear, found {text!r}")
