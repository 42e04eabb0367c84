"""A library as tables: CSV files with the terms of Darwin Core, described by a data package."""
