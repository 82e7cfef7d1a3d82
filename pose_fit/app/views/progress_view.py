"""What stands on the screen while pictures are measured: always in view."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from pose_fit.app.style import raw
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language

__all__ = ["Progress"]


@dataclass(slots=True)
class Progress:
    """Shown in a place at the top of the page.

    Attributes
    ----------
    again
        Leaves the answer before in sight.
    on_stop
        What the button that stops does.
    """

    place: DeltaGenerator
    again: bool
    on_stop: Callable[[], Any]
    _words: DeltaGenerator | None = None

    def show(self, *, number: int = 1, count: int = 1, name: str = "", ahead: int = 0) -> None:
        """Say what is being done, and how many pictures of other visitors come first."""
        say = in_language(FAMILY)
        what = [say.looking_at.format(number=number, count=count, name=name)] if name else [""]
        if ahead:
            what.append(say.ahead_one if ahead == 1 else say.ahead.format(count=ahead))
        lines = "".join(f"<p>{raw(line)}</p>" for line in what)
        kind = "pf-measuring pf-again" if self.again else "pf-measuring"
        self._place_of_words().html(
            f'<div class="{kind}" role="status"><p>{raw(say.looking)}</p>'
            f'<div class="pf-bar" role="progressbar" aria-label="{raw(say.progress)}"><i></i></div>'
            f"{lines}</div>"
        )

    def teller(self, *, number: int, count: int, name: str) -> Callable[[int], None]:
        """Says the same again with each number of pictures that come first."""

        def tell(ahead: int) -> None:
            self.show(number=number, count=count, name=name, ahead=ahead)

        return tell

    def clear(self) -> None:
        """Done."""
        self._words = None
        self.place.empty()

    def _place_of_words(self) -> DeltaGenerator:
        """Made once a run, with the button that stops below it."""
        if self._words is None:
            with self.place.container(key="progress"):
                self._words = st.empty()
                st.button(in_language(FAMILY).stop, key="progress.stop", on_click=self.on_stop)
        return self._words
