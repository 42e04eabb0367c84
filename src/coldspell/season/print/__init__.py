"""What is printed of a season: labels to exact size."""
