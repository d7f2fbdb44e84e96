"""A print whose place on the cloth is not known: where it may fall, and layouts that hold wherever it does."""
