"""Samples as a phone would write them: 12 megapixels; none so large comes with the project."""

from pathlib import Path

from PIL import Image

from pose_fit.app.inputs.uploads import samples

__all__ = ["large_pictures"]


def large_pictures(folder: Path) -> list[Path]:
    """The sheet samples at 3000 x 4000 pixels, EXIF kept."""
    paths = []
    for sample in samples():
        if sample.truth["reference"] == "sheet":
            with Image.open(sample.path) as image:
                path = folder / sample.path.name
                image.resize((3000, 4000), Image.Resampling.LANCZOS).save(
                    path, quality=92, exif=image.getexif()
                )
                paths.append(path)
    return paths
