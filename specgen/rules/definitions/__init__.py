"""Checks of definitions by themselves, without any build: `project.py` names them all."""
