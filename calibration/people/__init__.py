"""What is shipped of measured people: derived from published data, and scored on others of them."""
