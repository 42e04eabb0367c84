"""A season of many lots: plans side by side, what is due when, the cold room, and what is written of them."""
