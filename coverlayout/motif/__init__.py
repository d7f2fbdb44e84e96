"""The print: its picture, its repeat, how it lies."""
