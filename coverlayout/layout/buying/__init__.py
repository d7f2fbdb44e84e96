"""What to buy: cuts priced alone and together."""
