"""What is asked of one photo: the one record that command line, batch, app and case book share."""
