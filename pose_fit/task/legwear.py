"""What the child wears on the legs."""

from typing import Final, Literal, get_args

__all__ = ["LEGWEAR", "Legwear"]

#: Leggings, tights or bare legs; trousers or shorts of ordinary cut; loose ones that hang below
#: the crotch; or a skirt, dress or long top that hides it.
Legwear = Literal["snug", "fitted", "loose", "hidden"]
LEGWEAR: Final[tuple[Legwear, ...]] = get_args(Legwear)
