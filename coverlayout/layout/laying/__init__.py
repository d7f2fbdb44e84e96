"""The order of work of one question: a layout, proofs, room or length, a tidy upright plan, others on purpose."""
