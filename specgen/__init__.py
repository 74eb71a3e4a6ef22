"""specgen: spec sheets and guides for servers, computed from checked definitions."""

DISTRIBUTION = "specgen-sheets"
"""What indexes of packages call it: another's package has the name `specgen` there."""
