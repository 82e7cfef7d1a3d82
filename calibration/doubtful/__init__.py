"""Rendered pictures of children who do not stand as asked, and the report on all doubtful ones."""
