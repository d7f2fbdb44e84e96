"""What is left of the cloths, and the named layouts beside each other."""
