"""How a project lies on the disk: records, the archive that holds them, safe writing, pictures."""
