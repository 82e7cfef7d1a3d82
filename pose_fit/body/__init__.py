"""Who stands in the picture: named landmarks with their scatter, and the person's mask."""
