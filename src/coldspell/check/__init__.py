"""Check records and libraries, and say what to mend."""
