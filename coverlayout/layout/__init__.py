"""Questions and answers about laying pieces on cloth: rules, search, bounds and proofs."""
