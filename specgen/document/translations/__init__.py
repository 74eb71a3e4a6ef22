"""A project's own texts in other languages: what they are, where they are used, what is wrong."""
