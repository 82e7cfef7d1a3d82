"""Faces hidden in every picture that is kept or shown."""
