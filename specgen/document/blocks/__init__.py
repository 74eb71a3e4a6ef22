"""Blocks that templates call by name: tables and lists in `tables`, the rest in `makers`."""
