"""The window: draws a project and turns gestures into edits."""
