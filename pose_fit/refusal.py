"""The answer when a photo cannot be measured: reasons, and what to do instead."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.notice_codes import NoticeCode

__all__ = ["Ask", "Notice", "Refusal", "told_once"]

#: Facts that somebody could state to get further, by the names they have in ``task.facts``. Each
#: surface has its own words for how: the terminal names an option, the app a button.
Ask = Literal[
    "age",
    "crotch",
    "floor",
    "heels_down",
    "person",
    "points",
    "ruler",
    "same_child",
    "size",
    "soles",
    "taken",
]


@dataclass(frozen=True, slots=True)
class Notice:
    """A stable code for programs and one sentence for people."""

    code: NoticeCode
    message: str


@dataclass(frozen=True, slots=True)
class Refusal:
    """No measurement, and why. Falsy, so that ``if result:`` asks "was it measured?".

    ``reasons`` says what was seen; ``remedies`` what to change for the next photo, and ``asks``
    what to state of this one.
    """

    reasons: tuple[Notice, ...]
    remedies: tuple[str, ...] = ()
    asks: tuple[Ask, ...] = ()

    def __post_init__(self) -> None:
        if not self.reasons:
            raise ValueError("a refusal needs at least one reason, found none")

    @classmethod
    def because(
        cls, code: NoticeCode, message: str, *remedies: str, asks: tuple[Ask, ...] = ()
    ) -> "Refusal":
        """A refusal for one reason."""
        return cls((Notice(code, message),), remedies, asks)

    @property
    def plain(self) -> "Refusal":
        """The same without what a refusal of a photo carries besides."""
        return Refusal(self.reasons, self.remedies, self.asks)

    def __bool__(self) -> bool:
        return False

    def __str__(self) -> str:
        return " ".join(reason.message for reason in self.reasons)


#: What a notice tells of besides, so that the other one is not told too.
_TOLD_WITH: Final[Mapping[NoticeCode, NoticeCode]] = {"print_scale_unknown": "size_on_trust"}


def told_once(notices: Sequence[Notice]) -> tuple[Notice, ...]:
    """The notices for people, without those whose matter another one tells of."""
    codes = {notice.code for notice in notices}
    return tuple(notice for notice in notices if _TOLD_WITH.get(notice.code) not in codes)
