"""What stands on the screen while pictures are measured: always in view."""

from dataclasses import dataclass

from streamlit.delta_generator import DeltaGenerator

from pose_fit.app.style import raw
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language

__all__ = ["Progress"]


@dataclass(frozen=True, slots=True)
class Progress:
    """Shown in a place at the top of the page; ``again`` leaves the answer before in sight."""

    place: DeltaGenerator
    again: bool

    def show(self, *, number: int = 1, count: int = 1, name: str = "") -> None:
        """Say what is being done."""
        say = in_language(FAMILY)
        what = ""
        if name:
            what = say.looking_at.format(number=number, count=count, name=name)
        kind = "pf-measuring pf-again" if self.again else "pf-measuring"
        self.place.html(
            f'<div class="{kind}" role="status"><p>{raw(say.looking)}</p>'
            f'<div class="pf-bar" role="progressbar" aria-label="{raw(say.progress)}"><i></i></div>'
            f"<p>{raw(what)}</p></div>"
        )

    def clear(self) -> None:
        """Done."""
        self.place.empty()
