"""What is known of children's bodies: lengths, proportions, and who can exist."""
