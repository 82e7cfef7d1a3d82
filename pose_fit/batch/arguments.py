"""What is said of one photo of a batch, as typed: common defaults, and a row's own words."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal

from pose_fit.errors import InputError, LengthError, TyreMarkingError
from pose_fit.task.typed import place_px, reference_request

if TYPE_CHECKING:
    from pose_fit.anthropometry.child import Child
    from pose_fit.photo.photo import Place
    from pose_fit.reference.request import ReferenceRequest
    from pose_fit.task.photo_task import PhotoTask
    from pose_fit.task.stated import Stated

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
    heels_down: str | None = None
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

    def task(self) -> "PhotoTask":
        """What is asked of the photo; raises :class:`ArgumentError` as its parts do."""
        from pose_fit.task.photo_task import PhotoTask

        return PhotoTask(self.request(), self.said(), self.child())

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

    def said(self) -> "Stated":
        """What is said of the child in the photo.

        Raises
        ------
        ArgumentError
            A place that is anything but two numbers, another legwear than those known, heels
            told by another word than yes or no, or soles no shoe has.
        """
        from pose_fit.fit.policy import Rider
        from pose_fit.task.legwear import check_legwear
        from pose_fit.task.stated import Stated

        with _about("soles_mm"):
            Rider.wearing(self.soles_mm)
        with _about("legwear"):
            legwear = None if self.legwear is None else check_legwear(self.legwear)
        if self.heels_down not in (None, "yes", "no"):
            raise ArgumentError("heels_down", f"wanted yes or no, found {self.heels_down!r}")
        return Stated(
            soles_mm=self.soles_mm,
            legwear=legwear,
            heels_down=self.heels_down == "yes",
            crotch_px=self._place("crotch"),
            floor_px=self._place("floor"),
            person_px=self._place("person"),
        )

    def _place(self, name: Literal["crotch", "floor", "person"]) -> "Place | None":
        with _about(name):
            return place_px(name, getattr(self, name))

    def child(self) -> "Child":
        """The child.

        Raises
        ------
        ArgumentError
            An age, sex or stature outside the tables.
        """
        from pose_fit.anthropometry.child import Child

        for name in ("age_y", "sex", "stature_mm"):
            with _about(name):
                Child(**{name: getattr(self, name)})
        return Child(age_y=self.age_y, sex=self.sex, stature_mm=self.stature_mm)


@contextmanager
def _about(argument: str) -> Iterator[None]:
    """Whatever is wrong in the block is wrong with this argument."""
    try:
        yield
    except InputError as fault:
        raise ArgumentError(argument, str(fault).removeprefix(f"{argument}: ")) from fault
