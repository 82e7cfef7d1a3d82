"""Errors and answers that do not come through from one process to another."""

import os

__all__ = ["UnreadableError", "ReadNowhere", "lose"]


class UnreadableError(Exception):
    """Pickled by its message alone, though it takes two arguments to make it again."""

    def __init__(self, place: str, problem: str) -> None:
        super().__init__(problem)
        self.place = place


def lose() -> None:
    raise UnreadableError("here", "the reason")


class ReadNowhere:
    """Pickled where it is made; whoever reads it fails."""

    def __reduce__(self) -> tuple[object, ...]:
        return only_in, (os.getpid(),)


def only_in(pid: int) -> int:
    if os.getpid() != pid:
        raise ValueError("made in another process")
    return pid
