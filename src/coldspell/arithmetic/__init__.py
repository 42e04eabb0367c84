"""Pure functions on numbers: dates, seeds and plants, space, water, cold received, germination counts.

Every name says its unit; a percentage is 0 to 100 and says ``percent``, a probability or share is 0 to 1.
Nothing here reads a record, a rule or the clock.
"""
