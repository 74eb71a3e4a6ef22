"""Files: found and read through one gate, written whole, kept aside, locked and believed."""
