"""What a season is written as, by the suffix of the file: whole or not at all."""
