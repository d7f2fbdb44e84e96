"""What a question to the layout is made of: grounds, wishes, and cloth that could be bought."""
