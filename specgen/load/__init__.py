"""Trees to model values; names to definitions; schemas for editors."""
