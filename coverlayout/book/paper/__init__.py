"""From the sheet in the drawer to sections, pages and the thickness of the block."""
