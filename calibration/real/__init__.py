"""Sample pictures of general-purpose vision libraries: what the program makes of real photos."""
