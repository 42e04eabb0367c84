"""The printed sheet of one lot: its content from the recipe, then PDF and PNG by Typst, HTML by Jinja."""
