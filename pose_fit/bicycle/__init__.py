"""A bicycle as a shop knows it: tyre, geometry, catalogue, and the rules it falls under."""
