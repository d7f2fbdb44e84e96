"""The search for layouts: effort, sheets, first layouts by filling, layouts of any outline, and which is tidy."""
