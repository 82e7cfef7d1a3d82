"""Rendered photos of children who do not exist, with everything true of them known."""
