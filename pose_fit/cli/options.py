"""Options and exit codes that several commands share, so that they are named and told alike."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from pose_fit.task.legwear import Legwear

__all__ = [
    "EXIT_REFUSED",
    "EXIT_WRONG_CALL",
    "Age",
    "Bikes",
    "HeelsDown",
    "LegwearWorn",
    "Plane",
    "Ruler",
    "Sex",
    "Size",
    "SkillOption",
    "Soles",
    "Stature",
    "Stretch",
]

EXIT_WRONG_CALL = 2
EXIT_REFUSED = 3

Size = Annotated[
    str | None,
    typer.Option(help="Door height or length (80in, 2032mm); for a wheel its tyre code (47-406)."),
]
Plane = Annotated[
    Literal["wall", "beside"] | None,
    typer.Option(
        help="Where the object is: on the wall at the child's heels, or beside the child in"
        " the plane of the legs.  [default: wall; beside for a wheel]",
        show_default=False,
    ),
]
Ruler = Annotated[
    float | None,
    typer.Option(metavar="MM", help="What the ruler on the printed sheet measures, in mm."),
]
Soles = Annotated[
    float | None, typer.Option(metavar="MM", help="Thickness of the shoes' soles, in mm.")
]
LegwearWorn = Annotated[
    Legwear | None,
    typer.Option(
        help="What the child wears on the legs: leggings, tights or nothing; trousers or shorts of"
        " ordinary cut; loose ones that hang low; or a skirt or long top that hides where the legs"
        " part."
    ),
]
HeelsDown = Annotated[
    bool,
    typer.Option(
        "--heels-down",
        help="Both heels were on the floor: say so where you are asked, if you know it.",
    ),
]
Age = Annotated[float | None, typer.Option(metavar="Y", help="Age in years.")]
Sex = Annotated[Literal["f", "m"] | None, typer.Option(help="f or m.")]
Stature = Annotated[float | None, typer.Option(metavar="MM", help="Body height in mm.")]
Bikes = Annotated[
    Path | None,
    typer.Option("--bikes", metavar="CSV", help="Catalogue of bicycles to judge."),
]
SkillOption = Annotated[
    Literal["first_pedals", "sure", "off_road"],
    typer.Option(help="How well the child rides: learns, rides alone, or rides off road."),
]
Stretch = Annotated[
    bool,
    typer.Option("--stretch", help="Accept less than the usual clearance, never contact."),
]
