"""Single questions put to the program, each with its page of results."""
