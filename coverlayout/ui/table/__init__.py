"""What lies on the table, and how it is seen: pure values, no widgets."""
