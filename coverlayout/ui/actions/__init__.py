"""Every action of the window with its words and keys, in one list."""
