"""Many rectangles in one strip: skylines, tilings without waste, and the least length."""
