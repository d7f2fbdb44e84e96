"""Questions of size about a whole project: how many books, the largest, the least length, the scale of a print."""
