"""A picture: read from a file, upright, with what is known of its camera."""
