"""Every name of the rules that the program knows: decisions, facts, fields with their words, placeholders.

The rules are held against these modules when they are loaded (`contract`): a name can be changed on one side
only together with the other. No answer of a decision stands here: what an answer means to the program it says
itself, in fields. Facts and placeholders are types alone, and are imported for the type checker only: their
classes would cost every start.
"""
