"""What the window keeps on the disk: projects, recovery copies, and what it remembers of itself."""
