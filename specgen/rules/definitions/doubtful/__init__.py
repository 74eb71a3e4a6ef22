"""Values that can be and that hardly anybody means, by themselves or beside others of the sort."""
