"""Short questions on top of the window."""
