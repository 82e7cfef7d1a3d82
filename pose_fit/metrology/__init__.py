"""Lengths, their units and their uncertainty."""
