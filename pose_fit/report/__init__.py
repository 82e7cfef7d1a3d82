"""What a person gets to see: the picture with its marks, texts and JSON. Nothing is computed here."""
