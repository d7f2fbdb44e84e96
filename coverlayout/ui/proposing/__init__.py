"""A layout found by the search, shown as a proposal to take or to walk through."""
