"""Real pictures: collect them from clones, measure them, and count the faces left in them.

python -m calibration.real collect --clones DIR --photos DIR
python -m calibration.real measure --photos DIR
python -m calibration.real faces --photos DIR [--network FILE]
python -m calibration.real sights --photos DIR
"""

from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(add_completion=False, no_args_is_help=True, help="Real pictures.")
_RESULTS = Path("calibration/results")
_Photos = Annotated[Path, typer.Option(help="Folder of the pictures.")]


@app.command()
def collect(
    clones: Annotated[Path, typer.Option(help="Folder of the clones, OWNER/NAME each.")],
    photos: _Photos,
) -> None:
    """Copy the listed pictures out of clones of their repositories."""
    from calibration.real import pictures

    for missing in pictures.collect(clones, photos):
        typer.echo(f"missing: {missing.repository} {missing.path}")


@app.command()
def measure(
    photos: _Photos,
    out: Annotated[Path, typer.Option(help="The report.")] = _RESULTS / "real_pictures.md",
) -> None:
    """What the program does with each picture."""
    from rich.progress import track

    from calibration.real.measure import answers, report
    from calibration.real.pictures import pictures
    from pose_fit.body.mediapipe_pose import pose_model

    found = [
        answer
        for picture in track(pictures(), "Real pictures")
        for answer in answers(picture, photos, pose_model())
    ]
    out.write_text(report(found), encoding="utf-8")


@app.command()
def faces(
    photos: _Photos,
    network: Annotated[Path | None, typer.Option(help="An ONNX network as one more judge.")] = None,
    sheet: Annotated[
        Path | None, typer.Option(help="Picture of all that is found afterwards.")
    ] = None,
    hidden: Annotated[
        Path | None, typer.Option(help="Folder for the pictures, faces hidden, to be looked at.")
    ] = None,
    out: Annotated[Path, typer.Option(help="The report.")] = _RESULTS / "hidden_faces.md",
) -> None:
    """Faces that detectors find in pictures of several people, before and after hiding."""
    import cv2
    from rich.progress import track

    from calibration.real.hidden_faces import half, hide_in, report, sheet_of_remains
    from calibration.real.judges import judges
    from calibration.real.pictures import SEVERAL, pictures
    from pose_fit.body.mediapipe_pose import pose_model

    several = [picture for picture in pictures() if picture.seen == SEVERAL]
    who = judges(network)
    found = [hide_in(picture, photos, pose_model(), who) for picture in track(several, "Faces")]
    shown = [one for one in found if one is not None]
    out.write_text(report(several, shown), encoding="utf-8")
    if sheet is not None:
        cv2.imwrite(str(sheet), sheet_of_remains(shown)[..., ::-1])
    if hidden is not None:
        hidden.mkdir(parents=True, exist_ok=True)
        for one in shown:
            place = hidden / f"{half(one.picture)}_{Path(one.picture.file).stem}.png"
            cv2.imwrite(str(place), one.hidden[..., ::-1])


@app.command()
def sights(
    photos: _Photos,
    out: Annotated[Path, typer.Option(help="The report.")] = _RESULTS / "real_sights.md",
) -> None:
    """Crotch, toes and wall base by the finders, against clicks."""
    from rich.progress import track

    from calibration.real.clicks import clicked_people
    from calibration.real.sights import report, see_sights
    from pose_fit.body.mediapipe_pose import pose_model

    pose = pose_model()
    found = [see_sights(person, photos, pose) for person in track(clicked_people(), "Sights")]
    out.write_text(report([one for one in found if one is not None]), encoding="utf-8")


if __name__ == "__main__":
    app()
