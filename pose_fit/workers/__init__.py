"""Work done in processes of its own, shared fairly among everybody who asks."""
