"""The named layouts of a project beside each other."""
