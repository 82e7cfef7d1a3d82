"""The object of known size: what it is, how it is found, and where it lies in the picture."""
