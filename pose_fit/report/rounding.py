"""Rounding for output: a tenth of a millimetre or pixel is finer than anything measured here."""

__all__ = ["tenth"]


def tenth(value: float) -> float:
    """The value to one decimal."""
    return round(float(value), 1)
