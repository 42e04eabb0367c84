"""From a plan to the recipe: texts, sources, and the reasons."""
