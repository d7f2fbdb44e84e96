"""Copies and volumes: what is made, what it costs."""
