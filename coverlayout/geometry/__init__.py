"""Shapes, frames and mirroring in millimetres."""
