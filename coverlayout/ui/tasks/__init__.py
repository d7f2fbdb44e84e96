"""What the hand can do on the canvas besides moving pieces: measure, draw, pick, look closer."""
