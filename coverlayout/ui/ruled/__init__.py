"""What the book step shows of a book, and fields whose figure follows a rule until it is typed."""
