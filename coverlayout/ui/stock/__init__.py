"""Sheets and rolls: what materials come as, how many are needed with each drawn, and what the books cost."""
