"""Many lots asked at once, to prove the rules and to compare libraries."""
