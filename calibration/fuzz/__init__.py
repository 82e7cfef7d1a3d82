"""Damaged files and drawn calls by the thousand, and how they end."""
