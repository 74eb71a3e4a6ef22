"""specgen: spec sheets and guides for servers, computed from checked definitions."""
