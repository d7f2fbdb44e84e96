"""Fields of the panels: typed lengths and choices, lists of numbers, and the small drawings beside them."""
