"""Visits are served in turn."""

import threading

from hypothesis import given
from hypothesis import strategies as st

from pose_fit.workers.fair_queue import FairQueue


def queue_of(*entries: tuple[str, int]) -> FairQueue[tuple[str, int]]:
    queue: FairQueue[tuple[str, int]] = FairQueue()
    for entry in entries:
        queue.put(entry[0], entry)
    return queue


def test_who_comes_with_one_picture_is_served_after_the_one_that_has_begun():
    queue = queue_of(*(("many", number) for number in range(20)))
    assert queue.take() == ("many", 0)
    one = ("one", 0)
    queue.put("one", one)
    assert queue.ahead(one) == 0
    assert queue.take() == one
    assert queue.take() == ("many", 1)


def test_waiting_with_nothing_to_do_gains_nothing():
    queue = queue_of(*(("many", number) for number in range(5)))
    for _ in range(4):
        queue.take()
    for number in range(3):
        queue.put("late", ("late", number))
    served = [queue.take() for _ in range(4)]
    assert served == [("late", 0), ("many", 4), ("late", 1), ("late", 2)]


def test_a_place_given_away_moves_the_others_up():
    entries = [("a", 0), ("b", 0), ("c", 0)]
    queue = queue_of(*entries)
    assert [queue.ahead(entry) for entry in entries] == [0, 1, 2]
    queue.drop(entries[1])
    assert queue.ahead(entries[2]) == 1
    assert [queue.take(), queue.take()] == [entries[0], entries[2]]


def test_taking_waits_for_an_item():
    queue: FairQueue[str] = FairQueue()
    taken: list[str] = []
    waiting = threading.Thread(target=lambda: taken.append(queue.take()), daemon=True)
    waiting.start()
    waiting.join(0.05)
    assert not taken
    queue.put("visit", "item")
    waiting.join(5)
    assert taken == ["item"]


@given(st.lists(st.sampled_from("abcd"), max_size=40))
def test_visits_that_have_something_waiting_are_served_alike(visits):
    queue = queue_of(*((visit, number) for number, visit in enumerate(visits)))
    waiting = {visit: visits.count(visit) for visit in visits}
    served = dict.fromkeys(waiting, 0)
    for _ in visits:
        visit, _number = queue.take()
        served[visit] += 1
        waiting[visit] -= 1
        busy = [served[other] for other in served if waiting[other] or other == visit]
        assert max(busy) - min(busy) <= 1
    assert not any(waiting.values())
