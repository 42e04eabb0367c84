"""Checks of species records beyond the schema, one small unit each, listed in one table."""
