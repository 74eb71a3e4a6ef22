"""Facts as cells of tables, and tables as readers compare their rows: what blocks are made of."""
