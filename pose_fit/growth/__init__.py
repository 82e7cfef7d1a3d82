"""Inseam on a later day, and how long a bicycle lasts a growing child."""
