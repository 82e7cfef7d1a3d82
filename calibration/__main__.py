"""Command line of the bench: render, observe, fit, score.

python -m calibration render --out DIR --count N --seed S
python -m calibration observe --bench DIR
python -m calibration fit --bench DIR
python -m calibration score --bench DIR [--fitted-on DIR]
python -m calibration doubtful --bench DIR
python -m calibration look-alikes
"""

import json
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

__all__ = ["app"]

app = typer.Typer(add_completion=False, no_args_is_help=True, help="The truth bench.")


@app.callback()
def _bench() -> None:
    """The truth bench: rendered photos of known truth, fits and scores."""


@app.command()
def render(
    out: Annotated[Path, typer.Option(help="Folder of the pictures and their JSON files.")],
    count: Annotated[int, typer.Option(help="How many scenes (children).")] = 8,
    seed: Annotated[int, typer.Option(help="Seed of the series.")] = 1,
    start: Annotated[int, typer.Option(help="First index.")] = 0,
    photos: Annotated[int, typer.Option(help="Photos of each child.")] = 1,
    size: Annotated[str, typer.Option(help="Sensor size in pixels.")] = "900x1200",
    samples: Annotated[int, typer.Option(help="Light samples per pixel.")] = 5,
    only_params: Annotated[
        bool, typer.Option("--only-params", help="Print the parameters, render nothing.")
    ] = False,
) -> None:
    """Render photos with known truth; what is already there is kept."""
    from calibration.scenes.render import render_series, series

    width_px, height_px = (int(part) for part in size.lower().split("x"))
    scenes = series(
        seed=seed, start=start, count=count, photos=photos, width_px=width_px, height_px=height_px
    )
    if only_params:
        for scene in scenes:
            typer.echo(json.dumps(asdict(scene)))
        return
    made = render_series(scenes, out, samples=samples)
    typer.echo(f"{made} rendered, {len(scenes) - made} were there already")


@app.command()
def samples(
    out: Annotated[Path, typer.Option(help="Folder of the sample photos.")],
    only: Annotated[str, typer.Option(help="Names, comma between them; all without it.")] = "",
    light_samples: Annotated[int, typer.Option(help="Light samples per pixel.")] = 16,
) -> None:
    """Render the repository's sample photos."""
    from calibration.scenes.samples import SAMPLES, render_sample

    for index, sample in enumerate(SAMPLES):
        if not only or sample.name in only.split(","):
            render_sample(sample, out, index=index, samples=light_samples)
            typer.echo(f"SAMPLE {sample.name}")


@app.command()
def doubtful(
    bench: Annotated[
        Path | None, typer.Option(help="Folder of bench photos that must not be refused.")
    ] = None,
    most: Annotated[
        int | None, typer.Option(help="Look at so many of the bench's photos, evenly spread.")
    ] = None,
    out: Annotated[Path, typer.Option(help="The report.")] = Path(
        "calibration/results/doubtful.md"
    ),
    render_into: Annotated[
        Path | None,
        typer.Option("--render", help="Render the pictures into this folder instead."),
    ] = None,
) -> None:
    """Report what the program says of doubtful pictures; or render those that are rendered."""
    if render_into is None:
        from calibration.doubtful.report import write_report

        typer.echo(write_report(out, bench=bench, most=most))
        return
    from calibration.doubtful.pictures import PICTURES, render_picture

    for picture in PICTURES:
        if not (render_into / f"{picture.name}.jpg").exists():
            render_picture(picture, render_into, samples=5)
            typer.echo(f"PICTURE {picture.name}")


@app.command("look-alikes")
def look_alikes(
    out: Annotated[Path, typer.Option(help="The report.")] = Path(
        "calibration/results/look_alikes.md"
    ),
    draw_into: Annotated[
        Path | None,
        typer.Option("--draw", help="Draw the pictures into this folder instead."),
    ] = None,
) -> None:
    """Report on objects and people that are not what was said; or draw the pictures of them."""
    from calibration.doubtful.look_alikes.report import look_alike_report, write_pictures
    from pose_fit.body.mediapipe_pose import pose_model

    if draw_into is not None:
        write_pictures(draw_into, pose_model())
        return
    out.write_text(look_alike_report(pose_model()), encoding="utf-8")


_Bench = Annotated[Path, typer.Option(help="Folder of the rendered photos and their truths.")]


@app.command()
def observe(
    bench: _Bench,
    fresh: Annotated[
        bool, typer.Option("--fresh", help="Look again: the measuring code has changed.")
    ] = False,
    networks: Annotated[
        Path | None,
        typer.Option(help="Folder of networks trained without one world each, WORLD.onnx."),
    ] = None,
) -> None:
    """Measure every photo and keep what was seen beside the photos."""
    from calibration.observe import observe_folder

    if fresh:
        (bench / "observations.pkl").unlink(missing_ok=True)
    observations = observe_folder(bench, networks=networks)
    without = sum(item.sights is None for item in observations)
    typer.echo(f"{len(observations)} photos, {without} of them refused")


@app.command()
def fit(bench: _Bench) -> None:
    """Fit the error model on all worlds, the line between them on each left out; write the file."""
    from calibration.fit.model import MODEL_FILE, fit_model, write_model
    from calibration.observe import observe_folder
    from calibration.score.between_worlds import world_sd_mm

    observations = observe_folder(bench)
    model = fit_model(observations, world_sd_mm=world_sd_mm(observations))
    write_model(model)
    typer.echo(f"{MODEL_FILE.name}: {model.source}, {model.world_sd_mm:.1f} mm between worlds")


@app.command()
def score(
    bench: _Bench,
    out: Annotated[Path, typer.Option(help="Folder of the report.")] = Path("calibration/results"),
    fitted_on: Annotated[
        Path | None,
        typer.Option(help="Other photos of the same worlds, on which the models are fitted."),
    ] = None,
) -> None:
    """Score each world with the model fitted on the others, and write the report."""
    from calibration.score.report import write_report

    typer.echo(write_report(bench, out=out, fitted_on=fitted_on))


if __name__ == "__main__":
    app()
