"""Options made from the table of facts, so that they are named, told and read alike everywhere."""

import functools
import inspect
from collections.abc import Callable, Iterable
from typing import Annotated, Any

import typer

from pose_fit.task.facts import Fact

__all__ = ["TYPED", "with_facts"]

#: The parameter of a command that takes what was typed.
TYPED = "typed"


def with_facts(facts: Iterable[Fact]) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Give a command an option for each fact, in the place of its parameter ``typed``.

    That parameter gets the texts by the names of their facts, without those nobody gave.
    """
    facts = tuple(facts)

    def decorated(command: Callable[..., None]) -> Callable[..., None]:
        @functools.wraps(command)
        def called(**words: Any) -> None:
            given = {fact.name: words.pop(fact.name) for fact in facts}
            typed = {name: _text(value) for name, value in given.items() if _is_given(value)}
            command(**words, **{TYPED: typed})

        signature = inspect.signature(command)
        parameters: list[inspect.Parameter] = []
        for parameter in signature.parameters.values():
            if parameter.name == TYPED:
                parameters += [_parameter(fact) for fact in facts]
            else:
                parameters.append(parameter)
        called.__signature__ = signature.replace(parameters=parameters)  # type: ignore[attr-defined]
        called.__annotations__ = {one.name: one.annotation for one in parameters}
        return called

    return decorated


def _is_given(value: object) -> bool:
    # An empty text was typed, and says what is wrong when it is read.
    return value is not None and value is not False


def _text(value: object) -> str:
    return "yes" if value is True else str(value)


def _parameter(fact: Fact) -> inspect.Parameter:
    # Words are read with the rest, so that case does not matter and a fault names what was wanted.
    kind: Any = bool if fact.kind == "flag" else str
    option = typer.Option(
        fact.option,
        metavar=fact.metavar,
        help=fact.meaning,
        show_default=False,
    )
    return inspect.Parameter(
        fact.name,
        inspect.Parameter.KEYWORD_ONLY,
        default=False if kind is bool else None,
        annotation=Annotated[kind if kind is bool else kind | None, option],
    )
