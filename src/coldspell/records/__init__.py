"""What a species record is: its values, words and units, declared once."""
