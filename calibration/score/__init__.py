"""How well the photos of the bench are read, beside other ways to an inseam."""
