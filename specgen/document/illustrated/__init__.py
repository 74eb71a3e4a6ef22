"""Pictures of a project's own: their files, what they show and where, as blocks; what is wrong."""
