"""The one door for YAML written by people."""
