"""The app's pages: thin calls over the library, for parents, gift buyers and staff."""
