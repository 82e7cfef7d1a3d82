"""The inseam with its uncertainty, by photo and by every other way."""
