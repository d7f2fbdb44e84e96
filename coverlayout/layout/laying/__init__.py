"""The order of work of one question: a first layout, proofs, room or length, a tidy and upright plan, others on purpose."""
