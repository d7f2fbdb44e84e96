"""The verbs that ask how much: how many books, the largest, the least length, at what scale of the print."""
