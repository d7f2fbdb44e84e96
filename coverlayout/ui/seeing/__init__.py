"""Ways of seeing: small pictures, a loupe, only what will be on the book."""
