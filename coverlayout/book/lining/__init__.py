"""What goes inside the boards, and the label on the front."""
