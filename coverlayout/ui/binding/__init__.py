"""The book's fields: structure, paper, boards, sewing."""
