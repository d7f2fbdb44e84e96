"""The cloth on screen: pieces over the print at true scale."""
