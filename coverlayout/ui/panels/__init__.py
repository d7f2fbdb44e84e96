"""The work order: one panel a step, and the verdict bar."""
