"""Work done in processes of its own, shared fairly by everybody who asks."""
