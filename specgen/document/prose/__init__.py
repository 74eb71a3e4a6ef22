"""Prose written by hand: references to what the definitions say, and checks that it still holds."""
