"""Which of several layouts is better to cut: tidy, and with few pieces turned."""
