"""The question: one seed lot as the grower describes it."""
