"""The verdict: its words, its signs, and the bar at the bottom that shows them."""
