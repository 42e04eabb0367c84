"""From a seed lot to its recipe: measure, decide, quantify."""
