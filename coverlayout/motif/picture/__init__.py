"""Picture files: opening them safely, what they say about themselves, whether they are whole."""
