"""Coldspell: what a seed lot needs before it is sown, from sourced species records and reviewable rules."""

__version__ = "0.1.0"
