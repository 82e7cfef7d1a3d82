"""From pixels to millimetres."""
