"""Draws that several parts of a scene share: numbers within bounds, and colours."""

import numpy as np
from numpy.random import Generator

from calibration.scenes.scene import Rgb

__all__ = ["clipped", "cloth", "near"]


def clipped(rng: Generator, mean: float, sd: float, low: float, high: float) -> float:
    return float(np.clip(rng.normal(mean, sd), low, high))


def near(rng: Generator, rgb: Rgb, spread: float = 0.12) -> Rgb:
    grey, tint = rng.normal(0, spread), rng.normal(0, spread / 3, 3)
    red, green, blue = (
        float(np.clip(value * np.exp(grey + shift), 0.004, 0.9))
        for value, shift in zip(rgb, tint, strict=True)
    )
    return red, green, blue


def cloth(rng: Generator) -> Rgb:
    """Any cloth colour: a hue at some saturation, from nearly black to nearly white."""
    value = float(rng.choice([0.02, 0.06, 0.15, 0.3, 0.55, 0.75]) * np.exp(rng.normal(0, 0.2)))
    saturation = float(rng.beta(1.3, 1.6))
    hue = rng.uniform(0, 1)
    channels = [
        value * (1 - saturation + saturation * (0.5 + 0.5 * np.cos(2 * np.pi * (hue - shift))))
        for shift in (0.0, 1 / 3, 2 / 3)
    ]
    red, green, blue = (float(np.clip(channel, 0.006, 0.8)) for channel in channels)
    return red, green, blue
