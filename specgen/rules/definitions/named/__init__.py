"""Names and words: two that are alike, and those that say otherwise than the fields beside them."""
