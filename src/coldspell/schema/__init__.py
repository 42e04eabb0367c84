"""Declarations of values, and the JSON Schema that is made from them."""
