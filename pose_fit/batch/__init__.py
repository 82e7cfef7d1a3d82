"""Many photos to one table: planned, measured by workers, journalled, resumable."""
