"""Writers: the document tree in the formats that people and programs read."""
