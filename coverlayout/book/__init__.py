"""From the page to boards and cloth pieces."""
