"""A probability in words that never claim certainty."""

__all__ = ["chance_text"]


def chance_text(probability: float, *, under: str = "under", over: str = "over") -> str:
    """Per cent, and "under 1%" or "over 99%", in these words, where rounding would say never or always."""
    if probability < 0.01:
        return f"{under} 1%"
    if probability > 0.99:
        return f"{over} 99%"
    return f"{probability:.0%}"
