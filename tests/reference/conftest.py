"""Pages as a printer sees them."""

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image


@pytest.fixture
def printed(tmp_path: Path) -> Callable[[bytes], NDArray[np.uint8]]:
    """Makes the grey picture of a PDF's page at 300 dots an inch, by poppler."""

    def make(pdf: bytes) -> NDArray[np.uint8]:
        if shutil.which("pdftoppm") is None:
            pytest.skip("poppler-utils is not installed")
        (tmp_path / "page.pdf").write_bytes(pdf)
        command = ["pdftoppm", "-gray", "-png", "-r", "300", "-singlefile", "page.pdf", "page"]
        subprocess.run(command, cwd=tmp_path, check=True)
        return np.asarray(Image.open(tmp_path / "page.png").convert("L"))

    return make
