"""Service work on a platform: what is replaced, how it is reached, and the steps."""
