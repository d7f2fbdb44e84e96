"""Cuts and ladder, changes in size, flaws, zones: the cloth that can be used."""
