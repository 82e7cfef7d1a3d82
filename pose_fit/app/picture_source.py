"""A picture as the page's own data, so that no link to it exists."""

import base64
import io

from PIL import Image

__all__ = ["jpeg_source"]


def jpeg_source(image: Image.Image, *, longest_px: int) -> str:
    """A JPEG no longer than this, as an address."""
    small = image.convert("RGB")
    small.thumbnail((longest_px, longest_px))
    buffer = io.BytesIO()
    small.save(buffer, "JPEG", quality=85)
    return f"data:image/jpeg;base64,{base64.b64encode(buffer.getvalue()).decode()}"
