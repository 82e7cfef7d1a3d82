"""Every text of the pages for families, in English and in Spanish."""
