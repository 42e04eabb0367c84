"""From a lot and what is known of its kind to every answer of the rules."""
