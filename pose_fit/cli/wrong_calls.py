"""A wrong call ends in one sentence and its own exit status, never in a traceback."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NoReturn

import typer

from pose_fit.cli.options import EXIT_WRONG_CALL
from pose_fit.errors import PoseFitError, ReferenceObjectError
from pose_fit.task.facts import FactError, fact_named

__all__ = ["fail", "wrong_calls_explained"]


@contextmanager
def wrong_calls_explained() -> Iterator[None]:
    """Turn the library's errors into words and exit status 2."""
    try:
        yield
    except FactError as fault:
        fail(f"{fact_named(fault.fact).option}: {fault}")
    except ReferenceObjectError as fault:
        fail(f"{fact_named(fault.about).option}: {fault}")
    except PoseFitError as fault:
        fail(str(fault))


def fail(message: str) -> NoReturn:
    """Say what is wrong with the call, and end."""
    print(f"pose-fit: {message}", file=sys.stderr)
    raise typer.Exit(EXIT_WRONG_CALL)
