"""The fit card: one page for the family, as PDF and as HTML."""
