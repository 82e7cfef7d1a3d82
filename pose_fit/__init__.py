"""Child’s inseam from a photo or a tape, with its uncertainty, and which bicycles fit."""
