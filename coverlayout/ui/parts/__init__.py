"""Parts of the panels: what a cloth went through, its outline and flaws, turn-ins, own pieces, lists and tables."""
