"""What the pages show of results."""
