"""Proofs that pieces cannot all come from the cloth."""
