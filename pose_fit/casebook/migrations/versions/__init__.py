"""One module a revision; a revision that was published is never changed."""
