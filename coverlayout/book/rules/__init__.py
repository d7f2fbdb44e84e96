"""The figures of the trade, each with its source."""
