"""Cloth over boards: pieces as they lie on the open book, and the corners of a half binding."""
