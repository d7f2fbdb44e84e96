"""What is said of one cloth, row by row: changes in size, flaws, outline, zones, base line."""
