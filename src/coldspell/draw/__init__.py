"""A lot drawn from its recipe: SVG from pure functions."""
