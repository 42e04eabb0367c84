"""What is asked at the counter beside a recipe: what is wrong with a lot, and what then."""
