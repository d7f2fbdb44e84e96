"""Places and gaps as they are measured on the cloth, seen from one side."""
