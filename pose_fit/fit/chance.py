"""A probability in words that never claim certainty."""

__all__ = ["chance_text"]


def chance_text(probability: float) -> str:
    """Per cent, and "under 1%" or "over 99%" where rounding would say never or always."""
    if probability < 0.01:
        return "under 1%"
    if probability > 0.99:
        return "over 99%"
    return f"{probability:.0%}"
