"""Into which panels a cloth is cut when what is bonded on it comes smaller."""
