"""Look-alikes: objects and people that are not what was said, and what the program says of them."""
