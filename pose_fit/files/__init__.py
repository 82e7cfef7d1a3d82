"""Files as people hand them in, and files written whole."""
