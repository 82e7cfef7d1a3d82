"""The truth bench: rendered photos of known truth, and what is fitted to them and scored on them."""
