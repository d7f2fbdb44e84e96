"""The project value, its edits, history, file and recovery; turns a project into questions."""
