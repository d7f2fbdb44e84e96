"""Stations, holes and thread."""
