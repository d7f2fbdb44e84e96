"""Edits that come from measuring the cloth: its base line, its size taken again, and what that changed."""
