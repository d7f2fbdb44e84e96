"""Every way a few pieces can lie to each other, searched in batches: a layout, or the proof that there is none."""
