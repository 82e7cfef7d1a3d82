"""Drawings: pictures with marks, children on bicycles, charts. Nothing is computed here."""
