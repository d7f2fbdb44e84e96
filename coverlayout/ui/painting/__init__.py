"""How cloths, pieces and measures are painted; every decision is made before."""
