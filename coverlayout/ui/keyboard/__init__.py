"""The window by keys: the list of all actions, searched by words, and the way round the parts of the window."""
