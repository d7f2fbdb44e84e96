"""Every structure: from figures to boards and pieces of cloth."""
