"""What is said of one photo of a batch, as typed: common defaults, and a row's own words."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal

from pose_fit.cli_inputs import place_px, reference_request
from pose_fit.errors import InputError, LengthError, TyreMarkingError

if TYPE_CHECKING:
    from pose_fit.body.clicked import Place
    from pose_fit.child import Child
    from pose_fit.inseam.legwear import Legwear
    from pose_fit.reference.find import ReferenceRequest

__all__ = ["ArgumentError", "PhotoArguments"]

#: Words of a fault of the reference, and the argument it is about.
_ABOUT: Final = {
    "points": "points",
    "ruler": "ruler_mm",
    "size": "size",
    "code": "size",
}
#: What belongs to the reference and makes no sense with another one.
_OF_THE_REFERENCE: Final = ("size", "points", "plane", "ruler_mm")


class ArgumentError(InputError):
    """An argument that cannot be used; ``argument`` names it."""

    def __init__(self, argument: str, problem: str) -> None:
        self.argument = argument
        super().__init__(problem)


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoArguments:
    """The options of one measurement, None where nobody said."""

    reference: str | None = None
    size: str | None = None
    points: str | None = None
    crotch: str | None = None
    floor: str | None = None
    person: str | None = None
    plane: str | None = None
    ruler_mm: float | None = None
    soles_mm: float | None = None
    legwear: str | None = None
    age_y: float | None = None
    sex: str | None = None
    stature_mm: float | None = None

    def overridden(self, said: Mapping[str, str | float]) -> "PhotoArguments":
        """These arguments with a row's own in their place.

        A row with another reference keeps nothing of the common one: its size, points, plane
        and ruler are those of the row.
        """
        if said.get("reference", self.reference) == self.reference:
            return replace(self, **said)  # type: ignore[arg-type]
        of_the_row = dict.fromkeys(_OF_THE_REFERENCE)
        return replace(self, **(of_the_row | dict(said)))

    def request(self) -> "ReferenceRequest":
        """The reference to look for.

        Raises
        ------
        ArgumentError
            No reference, an unknown one, or one whose parts do not go together.
        """
        if self.reference is None:
            raise ArgumentError("reference", "wanted a reference, found none")
        if self.plane not in (None, "wall", "beside"):
            raise ArgumentError("plane", f"wanted wall or beside, found {self.plane!r}")
        try:
            return reference_request(
                self.reference, self.size, self.points, self.plane, self.ruler_mm
            )
        except (LengthError, TyreMarkingError) as fault:
            raise ArgumentError("size", str(fault)) from fault
        except InputError as fault:
            text = str(fault)
            about = next((name for word, name in _ABOUT.items() if word in text), "reference")
            raise ArgumentError(about, text) from fault

    def place(self, name: Literal["crotch", "floor", "person"]) -> "Place | None":
        """The crotch, the floor or the child as pointed out, upright pixels.

        Raises
        ------
        ArgumentError
            Anything but two numbers.
        """
        try:
            return place_px(name, getattr(self, name))
        except InputError as fault:
            raise ArgumentError(name, str(fault).removeprefix(f"{name}: ")) from fault

    def worn(self) -> "Legwear | None":
        """What the child wears on the legs.

        Raises
        ------
        ArgumentError
            Another word than those known.
        """
        from pose_fit.inseam.legwear import check_legwear

        try:
            return None if self.legwear is None else check_legwear(self.legwear)
        except InputError as fault:
            raise ArgumentError("legwear", str(fault)) from fault

    def child(self) -> "Child":
        """The child.

        Raises
        ------
        ArgumentError
            An age, sex or stature outside the tables, or soles no shoe has.
        """
        from pose_fit.child import Child
        from pose_fit.fit.policy import Rider

        for name in ("age_y", "sex", "stature_mm"):
            try:
                Child(**{name: getattr(self, name)})
            except InputError as fault:
                raise ArgumentError(name, str(fault)) from fault
        try:
            Rider.wearing(self.soles_mm)
        except InputError as fault:
            raise ArgumentError("soles_mm", str(fault)) from fault
        return Child(age_y=self.age_y, sex=self.sex, stature_mm=self.stature_mm)
