"""What the maker can do to a project, by noun: each function gives an Edit, old project to new."""
