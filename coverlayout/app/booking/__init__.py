"""The book on the command line."""
