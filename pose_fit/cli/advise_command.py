"""The command that judges bicycles without a photo; heavy imports where needed."""

from typing import Annotated, Literal

import typer

from pose_fit.cli.options import EXIT_REFUSED, AsJson, Bikes, Care, Details, Stretch, Today, Units
from pose_fit.cli.stated_options import with_facts
from pose_fit.cli.wrong_calls import wrong_calls_explained
from pose_fit.task.facts import CHILD, RIDER

__all__ = ["advise"]


@with_facts((*CHILD, *RIDER))
def advise(
    *,
    bikes: Bikes = None,
    inseam: Annotated[
        list[str] | None,
        typer.Option(
            "--inseam",
            "--tape",
            metavar="LENGTH",
            help="Inseam by tape, for example 25.5in; give it again for each further reading.",
        ),
    ] = None,
    sd: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH", help="Standard uncertainty of a single --inseam, such as 6mm."
        ),
    ] = None,
    care: Care = "careful",
    trousers: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="Inside leg seam of trousers that fit, crotch to hem."),
    ] = None,
    hem: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH",
            help="How high the hem of --trousers ends above the floor, worn barefoot.",
        ),
    ] = None,
    lift: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH",
            help="How far the bicycle --lift-bike can be lifted until the top tube touches, both"
            " wheels together.",
        ),
    ] = None,
    lift_bike: Annotated[
        str | None, typer.Option(metavar="NAME", help="Name of that bicycle in the catalogue.")
    ] = None,
    lifted: Annotated[
        Literal["whole", "front_wheel"] | None,
        typer.Option(
            help="What was lifted: say so where you are asked, or where it was the front wheel"
            " alone.",
            case_sensitive=False,
        ),
    ] = None,
    typed: dict[str, str],
    stretch: Stretch = False,
    today: Today = None,
    units: Units = "in",
    details: Details = False,
    as_json: AsJson = False,
) -> None:
    """Judge bicycles by tape, trousers, a lift, or only stature or age; several are combined.

    Without a catalogue: which standover height to look for.

    A length may have any unit (25.5in, 64.8cm, 2ft 1in); a number alone is millimetres.
    """
    with wrong_calls_explained():
        from pose_fit.cli.show import Show
        from pose_fit.cli.typed_clues import Clues, day_of, known_inseams, stock_of
        from pose_fit.fit.stock import rider_of
        from pose_fit.growth.dated_readings import Dated
        from pose_fit.task.typed import child_of

        stock, child, rider = stock_of(bikes, stretch=stretch), child_of(typed), rider_of(typed)
        clues = Clues(tuple(inseam or ()), sd, trousers, hem, lift, lift_bike, lifted, care)
        day = day_of(today)
        inseams = known_inseams(clues, child, rider, stock.bicycles)
        known = [Dated(one, day, child) for one in inseams]
        show = Show(stock, rider, day, unit=units, details=details, as_json=as_json)
        is_answered = show.child(known)
    if not is_answered:
        raise typer.Exit(EXIT_REFUSED)
