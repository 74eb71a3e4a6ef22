"""What fields of definitions must keep among themselves: else they contradict one another."""
