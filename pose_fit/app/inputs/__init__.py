"""Forms: each owns its fields."""
