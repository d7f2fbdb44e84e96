"""The closed book as it is cut through: what lies where, drawn piece by piece."""
