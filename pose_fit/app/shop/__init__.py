"""Pages for the shop."""
