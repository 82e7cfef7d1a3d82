"""Pages for parents and for people who buy a present."""
