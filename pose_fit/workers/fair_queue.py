"""A queue in which nobody has to wait for all that somebody else has brought."""

import bisect
import threading
from collections.abc import Hashable
from typing import Generic, TypeVar

__all__ = ["FairQueue"]

T = TypeVar("T")


class FairQueue(Generic[T]):
    """Items of several visits, served in rounds: one of each visit, in the order they came.

    A visit's next item belongs to the round after that of its last one, and never to a round that
    is over. So who comes late is served before the second item of those who came earlier, and
    gains nothing by having waited with nothing to do (start-time fair queueing, Goyal et al. 1996,
    with items of equal length).
    """

    def __init__(self) -> None:
        #: Round, number in order of arrival, item; sorted.
        self._waiting: list[tuple[int, int, T]] = []
        self._last_round: dict[Hashable, int] = {}
        self._round = self._arrived = 0
        self._changed = threading.Condition()

    def put(self, visit: Hashable, item: T) -> None:
        """Add an item of a visit."""
        with self._changed:
            place = max(self._last_round.get(visit, -1) + 1, self._round)
            self._last_round[visit] = place
            self._arrived += 1
            bisect.insort(self._waiting, (place, self._arrived, item))
            self._changed.notify()

    def take(self) -> T:
        """The item whose turn it is; waits for one."""
        with self._changed:
            self._changed.wait_for(lambda: self._waiting)
            self._round, _, item = self._waiting.pop(0)
            # Who was last served in a round that is over is as good as new.
            self._last_round = {
                visit: place for visit, place in self._last_round.items() if place >= self._round
            }
            return item

    def drop(self, item: T) -> None:
        """Take an item out that is no longer wanted; nothing happens where it was taken before."""
        with self._changed:
            self._waiting = [entry for entry in self._waiting if entry[2] is not item]

    def ahead(self, item: T) -> int:
        """How many items are served before this one; 0 where it was taken."""
        with self._changed:
            places = (place for place, entry in enumerate(self._waiting) if entry[2] is item)
            return next(places, 0)
