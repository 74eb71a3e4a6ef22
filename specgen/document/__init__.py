"""Documents: the tree that writers print, and the templates that it comes from."""
