"""Does it fit: clearance, saddle and feet become a verdict, a choice, and words."""
